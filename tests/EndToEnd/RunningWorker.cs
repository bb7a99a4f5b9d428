using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;
using Vanehour.Ingest;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;

namespace Vanehour.EndToEnd;

/// <summary>The worker that serve runs, in this process, over a data folder of its own.</summary>
internal sealed class RunningWorker : IAsyncDisposable
{
    private readonly IHost host;

    private RunningWorker(IHost host, DataFolder data)
    {
        this.host = host;
        Data = data;
        Monitor = host.Services.GetRequiredService<IngestMonitor>();
    }

    public DataFolder Data { get; }

    public IngestMonitor Monitor { get; }

    public static async Task<RunningWorker> StartAsync(string folder, int port, Action<IngestOptions>? configure = null)
    {
        var data = DataFolder.Open(folder);
        var host = WorkerHost.Build(
            data,
            new ConfigurationBuilder().Build(),
            options =>
            {
                options.SetBroker(new BrokerAddress("127.0.0.1", port, Tls: false));
                options.ClientId = "worker-under-test";
                options.MaxTrucks = 20;
                options.ConnectTimeout = TimeSpan.FromSeconds(60);
                options.RetryFirst = TimeSpan.FromMilliseconds(50);
                options.RetryLongest = TimeSpan.FromMilliseconds(500);
                configure?.Invoke(options);
            },
            TimeProvider.System,
            LogLevel.None);
        await host.StartAsync();
        var worker = new RunningWorker(host, data);
        await worker.Monitor.WaitForAsync(s => s.Connected, Limit());
        return worker;
    }

    /// <summary>A generous end for waits, so that a defect fails the test instead of hanging it.</summary>
    public static CancellationToken Limit() => new CancellationTokenSource(TimeSpan.FromMinutes(5)).Token;

    public async ValueTask DisposeAsync()
    {
        await host.StopAsync();
        host.Dispose();
        Data.Dispose();
    }
}
