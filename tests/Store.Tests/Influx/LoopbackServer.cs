using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
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
    public static async Task<LoopbackServer> StartAsync(RequestDelegate handle, int? port = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var own = port ?? FreePort();
        builder.WebHost.UseKestrel(options =>
        {
            options.Listen(IPAddress.Loopback, own);
            options.Limits.MaxRequestBodySize = null;
        });
        var app = builder.Build();
        app.Run(handle);
        await app.StartAsync();
        return new LoopbackServer(app, own);
    }

    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public async ValueTask DisposeAsync()
    {
        using var atOnce = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        await app.StopAsync(atOnce.Token);
        await app.DisposeAsync();
    }
}
