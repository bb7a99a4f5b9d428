using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Outbox;
using Vanehour.Store.Rejects;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>An outbox in a data folder, a forwarder that can be run, and what it made known.</summary>
internal sealed class OutboxRig : IAsyncDisposable
{
    private readonly InfluxConnection connection;
    private readonly InfluxTelemetryStore remote;
    private readonly CancellationTokenSource stop = new();
    private Task running = Task.CompletedTask;

    public OutboxRig(string folder, InfluxOptions options, TimeProvider? time = null, string worker = "worker")
    {
        Database = SqliteDatabase.Open(folder, SamplesSchema.Current);
        Rejects = new SqliteRejectLog(Database);
        connection = new InfluxConnection(options);
        remote = new InfluxTelemetryStore(connection, Database, Rejects, time ?? TimeProvider.System);
        Store = new OutboxTelemetryStore(Database, remote, time ?? TimeProvider.System);
        Notes = new WorkerNotes(connection, Database, worker, time ?? TimeProvider.System);
        Extents = new ServerExtents(connection, Database);
        Forwarder = new OutboxForwarder(Database, Store, remote, Notes, options, time ?? TimeProvider.System);
        Forwarder.Changed += status =>
        {
            lock (Seen)
            {
                Seen.Add(status);
            }
        };
    }

    public SqliteDatabase Database { get; }

    public OutboxTelemetryStore Store { get; }

    public OutboxForwarder Forwarder { get; }

    public SqliteRejectLog Rejects { get; }

    public WorkerNotes Notes { get; }

    public ServerExtents Extents { get; }

    /// <summary>Every state that was made known.</summary>
    public List<ForwardingStatus> Seen { get; } = [];

    /// <summary>Options that soon try again; what is not about a time-out must not run into one on a busy machine.</summary>
    public static InfluxOptions Options(string url) => new()
    {
        Url = url,
        Bucket = "vanehour",
        WriteTimeout = TimeSpan.FromSeconds(60),
        ReadTimeout = TimeSpan.FromSeconds(60),
        RetryFirst = TimeSpan.FromMilliseconds(5),
        RetryLongest = TimeSpan.FromMilliseconds(40),
    };

    public void Start() => running = Task.Run(() => Forwarder.RunAsync(stop.Token));

    /// <summary>Waits until nothing is left in the outbox. The forwarder's own counts follow a moment later.</summary>
    public Task DrainedAsync() => UntilAsync(s => s.Backlog.Samples == 0);

    /// <summary>Waits until the status is as wanted.</summary>
    public async Task UntilAsync(Func<ForwardingStatus, bool> condition)
    {
        var watch = System.Diagnostics.Stopwatch.StartNew();
        while (watch.Elapsed < TimeSpan.FromMinutes(2))
        {
            if (condition(Forwarder.Status()))
            {
                return;
            }

            await Task.Delay(10);
        }

        Assert.Fail($"It did not come to that: {Forwarder.Status()}");
    }

    /// <summary>Whether a state was ever made known.</summary>
    public bool Saw(ForwardingState state, string problem)
    {
        lock (Seen)
        {
            return Seen.Exists(s => s.State == state && s.Problem?.Contains(problem, StringComparison.Ordinal) == true);
        }
    }

    public async Task<IReadOnlyList<StoredReject>> RejectedAsync() => await Rejects.ReadAsync(100_000, CancellationToken.None);

    public async Task StopAsync()
    {
        await stop.CancelAsync();
        await running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        Store.Dispose();
        remote.Dispose();
        connection.Dispose();
        stop.Dispose();
    }
}
