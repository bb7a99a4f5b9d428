using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.HttpOverrides;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Vanehour.Board.Layout;
using Vanehour.Board.People;
using Vanehour.Board.Reading;

namespace Vanehour.Board.Serving;

//  browser --> host names --> guard (headers, who, role) --> anti-forgery --> pages (Razor, rendered here), forms, api, tables, pictures
//                                                                                |                    |
//                                                             FleetReader (what analyses kept)    IFleetDesk (does what people ask for)

/// <summary>The web pages of one data folder. It has services of its own: what goes wrong here can stop no intake.</summary>
public sealed class BoardServer : IAsyncDisposable
{
    private const string SignInLimit = "sign-in";

    // Pictures and listings take memory while they are made.
    private const string DrawLimit = "draw";
    private const long LargestForm = 64 * 1024;

    private readonly WebApplication app;

    private BoardServer(WebApplication app) => this.app = app;

    /// <summary>Where it listens, once it has started, as http://127.0.0.1:8460.</summary>
    public string Address => app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault() ?? string.Empty;

    /// <summary>Builds the server; it does not listen yet.</summary>
    /// <param name="fleet">What it shows.</param>
    /// <param name="options">Where it listens.</param>
    /// <param name="logging">Where warnings go.</param>
    /// <exception cref="PeopleException">It may not listen where it is told to, or a certificate cannot be read.</exception>
    public static BoardServer Create(BoardFleet fleet, BoardOptions options, ILoggerProvider? logging = null)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(options);
        var people = new PeopleFile(fleet.Folder, fleet.Time);
        if (options.IsReachable && people.All().Count == 0)
        {
            throw new PeopleException("Before others can reach the Board somebody must be able to sign in: add people with 'vanehour user add NAME', or leave Board:Address at 127.0.0.1.");
        }

        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = typeof(BoardServer).Assembly.GetName().Name });
        builder.Logging.SetMinimumLevel(LogLevel.Warning);

        // That it cannot listen is said in a sentence by who starts it. Keys lie unencrypted in a folder that its owner alone may read, as DEVELOPERS.md says; and nothing is cached that holds a form.
        builder.Logging.AddFilter("Microsoft.Extensions.Hosting", LogLevel.None);
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.Logging.AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Error);
        if (logging is not null)
        {
            builder.Logging.AddProvider(logging);
        }

        Listen(builder, options);
        AddServices(builder.Services, fleet, options, people);
        var app = builder.Build();
        Use(app, options);
        return new BoardServer(app);
    }

    /// <summary>Starts to listen.</summary>
    /// <exception cref="IOException">The address is taken, or is none of this machine.</exception>
    public Task StartAsync(CancellationToken cancellationToken) => app.StartAsync(cancellationToken);

    /// <summary>Stops.</summary>
    public Task StopAsync(CancellationToken cancellationToken) => app.StopAsync(cancellationToken);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => app.DisposeAsync();

    private static void Listen(WebApplicationBuilder builder, BoardOptions options)
    {
        var certificate = CertificateOf(options);
        builder.WebHost.UseKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestForm;
            kestrel.Limits.MaxConcurrentConnections = 200;
            kestrel.Listen(IPAddress.Parse(options.Address), options.Port, listen =>
            {
                listen.Protocols = HttpProtocols.Http1AndHttp2;
                if (certificate is not null)
                {
                    listen.UseHttps(certificate);
                }
                else
                {
                    listen.Protocols = HttpProtocols.Http1;
                }
            });
        });
    }

    private static X509Certificate2? CertificateOf(BoardOptions options)
    {
        if (options.Certificate is not { } path)
        {
            return null;
        }

        try
        {
            var password = options.CertificatePasswordFile is { } file ? File.ReadLines(file).FirstOrDefault() : null;
            return options.CertificateKey is not { } key ? X509CertificateLoader.LoadPkcs12FromFile(path, password)
                : password is null ? X509Certificate2.CreateFromPemFile(path, key)
                : X509Certificate2.CreateFromEncryptedPemFile(path, password, key);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or System.Security.Cryptography.CryptographicException)
        {
            throw new PeopleException($"The certificate of the Board cannot be read from {path}: {e.Message}", e);
        }
    }

    private static void AddServices(IServiceCollection services, BoardFleet fleet, BoardOptions options, PeopleFile people)
    {
        services.AddSingleton(fleet);
        services.AddSingleton(people);
        services.AddSingleton(options);
        services.AddSingleton<FleetReader>();
        services.AddSingleton<Heard>();
        services.AddSingleton<ChartDrawing>();
        services.AddSingleton<Guard>();
        services.AddScoped<Visit>();
        services.AddHttpContextAccessor();
        services.AddRoutingCore();
        services.AddProblemDetails();
        services.AddRazorComponents();
        services.AddHostFiltering(filtering => filtering.AllowedHosts = ["localhost", "127.0.0.1", "[::1]", .. options.Hosts]);

        // Keys of cookies and forms outlive a restart, so that nobody is thrown out and no open form is lost.
        var keys = Directory.CreateDirectory(Path.Combine(fleet.Folder, "board-keys"));
        if (!OperatingSystem.IsWindows())
        {
            keys.UnixFileMode = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
        }

        services.AddDataProtection().SetApplicationName("vanehour-board").PersistKeysToFileSystem(keys);
        services.AddAntiforgery(anti =>
        {
            anti.Cookie.Name = "vanehour-form";
            anti.Cookie.SameSite = SameSiteMode.Strict;
            anti.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        });
        services.AddAuthentication(CookieAuthenticationDefaults.AuthenticationScheme).AddCookie(cookie =>
        {
            cookie.Cookie.Name = "vanehour-who";
            cookie.Cookie.HttpOnly = true;
            cookie.Cookie.SameSite = SameSiteMode.Lax;
            cookie.Cookie.SecurePolicy = options.IsEncrypted ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
            cookie.ExpireTimeSpan = TimeSpan.FromHours(options.SignedInHours);
            cookie.SlidingExpiration = true;
            cookie.TimeProvider = fleet.Time;

            // A page that looks for news by itself keeps nobody signed in: a browser says that a script asks.
            cookie.Events.OnCheckSlidingExpiration = context =>
            {
                context.ShouldRenew &= context.Request.Headers["Sec-Fetch-Dest"] != "empty";
                return Task.CompletedTask;
            };
            cookie.Events.OnValidatePrincipal = context => Signing.ValidateAsync(context, people);
        });
        services.AddRateLimiter(limiter =>
        {
            limiter.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            limiter.OnRejected = async (context, token) =>
            {
                // To somebody who signs in the page of the status says it.
                if (context.HttpContext.Request.Path != Guard.SignIn)
                {
                    context.HttpContext.Response.Headers.RetryAfter = "5";
                    await context.HttpContext.Response.WriteAsync("Too much is asked for at once; try again in some seconds.", token);
                }
            };
            limiter.AddPolicy(DrawLimit, _ => RateLimitPartition.GetConcurrencyLimiter(DrawLimit, _ => new ConcurrencyLimiterOptions { PermitLimit = 4, QueueLimit = 40 }));
            limiter.AddPolicy(SignInLimit, context => RateLimitPartition.GetFixedWindowLimiter(
                context.Connection.RemoteIpAddress?.ToString() ?? "unknown",
                _ => new FixedWindowRateLimiterOptions { PermitLimit = options.SignInTries, Window = TimeSpan.FromMinutes(5), QueueLimit = 0 }));
        });
        services.Configure<ForwardedHeadersOptions>(forwarded =>
        {
            forwarded.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
            foreach (var proxy in options.Proxies)
            {
                forwarded.KnownProxies.Add(IPAddress.Parse(proxy));
            }
        });
    }

    private static void Use(WebApplication app, BoardOptions options)
    {
        if (options.BehindProxy)
        {
            app.UseForwardedHeaders();
        }

        app.UseHostFiltering();
        app.UseExceptionHandler("/trouble/500", createScopeForErrors: true);
        app.UseStatusCodePagesWithReExecute("/trouble/{0}", createScopeForStatusCodePages: true);
        app.Use((context, next) =>
        {
            // The page that says what went wrong is looked at, whatever was sent to the one that failed.
            if (context.Features.Get<IStatusCodeReExecuteFeature>() is not null || context.Features.Get<IExceptionHandlerPathFeature>() is not null)
            {
                context.Request.Method = HttpMethods.Get;
            }

            return next(context);
        });
        if (options.IsEncrypted)
        {
            app.UseHsts();
        }

        var guard = app.Services.GetRequiredService<Guard>();
        app.Use((context, next) => guard.PassAsync(context, _ => next()));
        app.UseRouting();
        app.UseRateLimiter();
        app.UseAntiforgery();
        BoardAssets.Map(app);
        var files = app.MapGroup(string.Empty).RequireRateLimiting(DrawLimit);
        Api.Map(app, files);
        Tables.Map(files);
        Pictures.Map(app, files);
        Forms.Map(app);
        MapSigning(app);
        app.MapRazorComponents<App>();
    }

    private static void MapSigning(WebApplication app)
    {
        app.MapPost(Guard.SignIn, async (HttpContext context, [FromForm] IFormCollection form, PeopleFile people) =>
        {
            var to = Guard.Local(form["to"]);
            if (people.Check(form["name"].ToString().Trim(), form["password"].ToString()) is not { } person)
            {
                return Results.LocalRedirect($"{Guard.SignIn}?again=1&to={Uri.EscapeDataString(to)}");
            }

            await Signing.InAsync(context, person);
            return Results.LocalRedirect(to);
        }).RequireRateLimiting(SignInLimit);
        app.MapPost(Guard.SignOut, async (HttpContext context, [FromForm] IFormCollection _) =>
        {
            await Microsoft.AspNetCore.Authentication.AuthenticationHttpContextExtensions.SignOutAsync(context);
            return Results.LocalRedirect(Guard.SignIn);
        });
    }
}
