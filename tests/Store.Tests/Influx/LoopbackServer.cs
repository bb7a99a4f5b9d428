using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Vanehour.Store.Tests.Influx;

/// <summary>A small web server on a loopback port of its own.</summary>
public sealed class LoopbackServer : IAsyncDisposable
{
    private readonly WebApplication app;

    private LoopbackServer(WebApplication app, int port)
    {
        this.app = app;
        Port = port;
    }

    public int Port { get; }

    public string Url => $"http://127.0.0.1:{Port}";

    /// <summary>Starts it; every request goes to <paramref name="handle"/>.</summary>
    /// <param name="handle">Answers.</param>
    /// <param name="bound">The socket to listen on; null: a port of the system's choice.</param>
    public static async Task<LoopbackServer> StartAsync(RequestDelegate handle, Socket? bound = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseKestrel(options =>
        {
            options.Listen(IPAddress.Loopback, 0);
            options.Limits.MaxRequestBodySize = null;
        });
        if (bound is not null)
        {
            builder.WebHost.UseSockets(options => options.CreateBoundListenSocket = _ => bound);
        }

        var app = builder.Build();
        app.Run(handle);
        await app.StartAsync();
        var address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
        return new LoopbackServer(app, new Uri(address).Port);
    }

    public async ValueTask DisposeAsync()
    {
        // No grace for requests under way: it ends their connections.
        using var atOnce = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        await app.StopAsync(atOnce.Token);
        await app.DisposeAsync();
    }
}
