using Microsoft.Extensions.DependencyInjection;
using Vanehour.Ingest.Health;
using Vanehour.Ingest.Tests.Brokers;
using Vanehour.Ingest.Tests.Memory;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Tests.Worker;

/// <summary>The worker as a host composes it, with a store in memory.</summary>
internal sealed class WorkerRig : IAsyncDisposable
{
    /// <summary>A generous end for waits, so that a defect fails a test instead of hanging it and a busy machine does not.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private readonly ServiceProvider services;

    public WorkerRig(MosquittoBroker broker, InMemoryTelemetryStore? store = null, Action<IngestOptions>? configure = null)
        : this(broker.Port, store, configure)
    {
    }

    public WorkerRig(int port, InMemoryTelemetryStore? store = null, Action<IngestOptions>? configure = null)
    {
        Store = store ?? new InMemoryTelemetryStore();
        services = new ServiceCollection()
            .AddLogging()
            .AddMetrics()
            .AddSingleton<ITelemetryStore>(Store)
            .AddSingleton<IRejectLog>(Rejects)
            .AddVanehourIngest(o =>
            {
                o.Host = "127.0.0.1";
                o.Port = port;
                o.ClientId = "worker";
                o.ConnectTimeout = TimeSpan.FromSeconds(60);
                o.DrainLimit = TimeSpan.FromSeconds(60);
                o.BatchDelay = TimeSpan.FromMilliseconds(20);
                o.RetryFirst = TimeSpan.FromMilliseconds(50);
                o.RetryLongest = TimeSpan.FromMilliseconds(400);
                configure?.Invoke(o);
            })
            .BuildServiceProvider();
        Worker = services.GetRequiredService<IngestWorker>();
        Monitor = services.GetRequiredService<IngestMonitor>();
    }

    public InMemoryTelemetryStore Store { get; }

    public InMemoryRejectLog Rejects { get; } = new();

    public IngestWorker Worker { get; }

    public IngestMonitor Monitor { get; }

    public async Task StartAsync()
    {
        await Worker.StartAsync(CancellationToken.None);
        await UntilAsync(s => s.Connected);
    }

    /// <summary>Waits for a status; a worker that has failed meanwhile fails the test with its own exception.</summary>
    public async Task<IngestStatus> UntilAsync(Func<IngestStatus, bool> condition)
    {
        using var limit = new CancellationTokenSource(Patience);
        var wait = Monitor.WaitForAsync(condition, limit.Token);
        var end = Worker.ExecuteTask!;
        if (await Task.WhenAny(wait, end) == end && end.IsFaulted)
        {
            await end;
        }

        return await wait;
    }

    public Task StopAsync() => Worker.StopAsync(CancellationToken.None).WaitAsync(Patience);

    public async ValueTask DisposeAsync()
    {
        await StopAsync().ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await services.DisposeAsync();
    }
}
