using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http;
using Vanehour.Board.People;

namespace Vanehour.Board.Serving;

/// <summary>
/// Stands before every page: says what browsers may do with it, and lets nobody by who must sign in, nor a form of somebody who may only look. One place, so
/// that no page can forget it.
/// </summary>
/// <param name="people">The people.</param>
/// <param name="options">Where it listens.</param>
internal sealed class Guard(PeopleFile people, BoardOptions options)
{
    /// <summary>Where people sign in.</summary>
    public const string SignIn = "/sign-in";

    /// <summary>Where people sign out.</summary>
    public const string SignOut = "/sign-out";

    // Nothing from elsewhere, no inline script or style, no frames, forms to ourselves alone.
    private const string ContentPolicy =
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'self'";

    private static readonly string[] ForwardingHeaders = ["Forwarded", "Via", "X-Forwarded-For", "X-Forwarded-Proto", "X-Forwarded-Host", "X-Forwarded-Port", "X-Real-IP"];

    public async Task PassAsync(HttpContext context, RequestDelegate next)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = ContentPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        headers.CacheControl = "no-store";

        if (!options.BehindProxy && ForwardingHeaders.Any(headers => context.Request.Headers.ContainsKey(headers)))
        {
            // A proxy that nobody told us of would make the whole world look like this machine.
            await SayAsync(context, "A proxy stands before the Board; set Board:BehindProxy (see README), or call it without the proxy.");
            return;
        }

        if (options.IsEncrypted && !context.Request.IsHttps)
        {
            await SayAsync(context, "The Board is set to be called over HTTPS: the proxy must send X-Forwarded-Proto: https, and its address must be loopback or stand in Board:Proxies.");
            return;
        }

        bool isNobodyLeft;
        try
        {
            isNobodyLeft = people.All().Count == 0;
        }
        catch (PeopleException e)
        {
            await SayAsync(context, e.Message);
            return;
        }

        if (isNobodyLeft && options.IsReachable)
        {
            // The last one was taken away while it runs: what others can reach is not thrown open by that.
            await SayAsync(context, "Nobody may sign in; add somebody with 'vanehour user add NAME'.");
            return;
        }

        // The page to sign in needs its looks, and what went wrong there must be said; neither tells anything of the fleet.
        var path = context.Request.Path;
        if (isNobodyLeft || IsTrouble(context) || path.StartsWithSegments(SignIn, StringComparison.Ordinal) || path.StartsWithSegments("/assets", StringComparison.Ordinal))
        {
            await next(context);
            return;
        }

        if ((await context.AuthenticateAsync()).Principal is not { Identity.IsAuthenticated: true } user)
        {
            Refuse(context);
            return;
        }

        context.User = user;
        if (!HttpMethods.IsGet(context.Request.Method) && !HttpMethods.IsHead(context.Request.Method) && path != SignOut && !user.IsInRole(nameof(Role.Editor)))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            return;
        }

        await next(context);
    }

    /// <summary>A path of our own to go on to; the first page where the text is none.</summary>
    public static string Local(string? path) =>
        path is ['/', ..] && !path.StartsWith("//", StringComparison.Ordinal) && !path.Contains('\\', StringComparison.Ordinal) && path.All(c => c is > ' ' and < '\x7F')
        && !path.StartsWith(SignIn, StringComparison.Ordinal) ? path : "/";

    private static bool IsTrouble(HttpContext context) =>
        context.Features.Get<IStatusCodeReExecuteFeature>() is not null || context.Features.Get<IExceptionHandlerPathFeature>() is not null;

    private static Task SayAsync(HttpContext context, string sentence)
    {
        context.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
        return context.Response.WriteAsync(sentence);
    }

    private static void Refuse(HttpContext context)
    {
        var isForPeople = context.Request.Headers.Accept.Any(a => a?.Contains("text/html", StringComparison.OrdinalIgnoreCase) == true);
        if (context.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal) || (!HttpMethods.IsGet(context.Request.Method) && !isForPeople))
        {
            // For programs the number says it all; a page in its place would have to be signed in for.
            context.Features.Get<IStatusCodePagesFeature>()?.Enabled = false;
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            return;
        }

        // A form whose sender is not signed in any more leads back to the page it stood on, as far as the browser tells.
        var to = HttpMethods.IsGet(context.Request.Method) ? context.Request.Path.ToUriComponent() + context.Request.QueryString.ToUriComponent()
            : Uri.TryCreate(context.Request.Headers.Referer, UriKind.Absolute, out var page) ? page.PathAndQuery
            : "/";
        context.Response.StatusCode = HttpMethods.IsGet(context.Request.Method) ? StatusCodes.Status302Found : StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = $"{SignIn}?to={Uri.EscapeDataString(to)}";
    }
}
