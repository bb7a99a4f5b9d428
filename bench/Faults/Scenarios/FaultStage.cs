using System.Diagnostics;
using Vanehour.Bench.Faults.Brokers;
using Vanehour.Bench.Faults.Feed;
using Vanehour.Bench.Faults.Network;
using Vanehour.Bench.Faults.Servers;
using Vanehour.Bench.Faults.Verification;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Host.Composition;

namespace Vanehour.Bench.Faults.Scenarios;

//  LoadPublisher --QoS 1--> Mosquitto --> FaultyLink --> vanehour ingest (a process, or several) --> samples.db
//       |                                     |                                     (or its outbox --> InfluxGate --> Influxd)
//       |                                     |                                                          |
//       +-- acknowledged by the broker ----> FeedLedger <---- acknowledged by the worker        StoreCheck compares

/// <summary>Broker, link, publisher and a folder for workers: what every fault is tried on. Everything is ended and deleted when disposed.</summary>
internal sealed class FaultStage : IAsyncDisposable
{
    // So many are sent however slow the machine is, so that something is at stake.
    private const int LeastMessages = 400;

    private readonly List<ChildProcess> workers = [];
    private readonly string folder;

    private FaultStage(string folder, Mosquitto broker, Influxd? server, FeedLedger ledger, int seed, MessagePlan plan)
    {
        this.folder = folder;
        Server = server;
        Gate = server is null ? null : new InfluxGate(server.Url);
        Broker = broker;
        Ledger = ledger;
        Random = new Random(seed);
        Link = new FaultyLink(broker.Port, ledger, seed);
        Publisher = new LoadPublisher(broker.Port, plan, ledger);
    }

    public Mosquitto Broker { get; }

    /// <summary>The InfluxDB that keeps the samples, or null.</summary>
    public Influxd? Server { get; }

    /// <summary>What stands before it, or null.</summary>
    public InfluxGate? Gate { get; }

    public FeedLedger Ledger { get; }

    public FaultyLink Link { get; }

    public LoadPublisher Publisher { get; }

    /// <summary>Decides when faults strike.</summary>
    public Random Random { get; }

    /// <summary>Since the stage was set.</summary>
    public Stopwatch Clock { get; } = Stopwatch.StartNew();

    /// <summary>Sets the stage.</summary>
    /// <param name="seed">Decides what is sent and when faults strike.</param>
    /// <param name="plan">What to send; null: a usual mix of 20 trucks.</param>
    /// <param name="broker">Settings of the broker other than those shipped.</param>
    /// <param name="influx">Whether the samples go to an InfluxDB.</param>
    public static async Task<FaultStage> SetAsync(
        int seed, MessagePlan? plan = null, IReadOnlyDictionary<string, string>? broker = null, bool influx = false)
    {
        var folder = Directory.CreateTempSubdirectory("vanehour-faults-").FullName;
        var mosquitto = await Mosquitto.StartAsync(Path.Combine(folder, "broker"), broker);
        var server = influx ? await Influxd.StartAsync(Path.Combine(folder, "influxd")) : null;
        return new FaultStage(folder, mosquitto, server, new FeedLedger(), seed, plan ?? new MessagePlan(seed, trucks: 20));
    }

    /// <summary>The settings of a worker with a data folder on this stage.</summary>
    public WorkerSettings Settings(string name, string? clientId = null, string? share = null) =>
        new(Path.Combine(folder, name), clientId ?? name, share) { InfluxUrl = Gate?.Url };

    /// <summary>Starts a worker through the link.</summary>
    public ChildProcess Start(WorkerSettings settings)
    {
        var worker = WorkerProcess.Start(settings, Link.Port);
        workers.Add(worker);
        return worker;
    }

    /// <summary>A random time.</summary>
    public TimeSpan Between(double leastS, double mostS) => TimeSpan.FromSeconds(leastS + ((mostS - leastS) * Random.NextDouble()));

    /// <summary>Publishes what is held back, waits until the broker has taken all and the wire has fallen silent, and checks the stores.</summary>
    /// <param name="mayLose">Whether the broker may have lost something, so that waiting for it would be in vain.</param>
    /// <param name="folders">The data folders that together must hold everything.</param>
    public async Task<StoreVerdict> FinishAsync(bool mayLose, params IReadOnlyList<string> folders)
    {
        await Publisher.FinishAsync(LeastMessages);
        return await CheckAsync(mayLose, folders);
    }

    /// <summary>Waits until the wire has fallen silent, and checks the stores.</summary>
    public async Task<StoreVerdict> CheckAsync(bool mayLose, params IReadOnlyList<string> folders)
    {
        var clock = Stopwatch.StartNew();
        while (true)
        {
            await QuietAsync(TimeSpan.FromSeconds(mayLose ? 3 : 1));
            await ForwardedAsync(folders);
            var verdict = await StoreCheck.RunAsync(Ledger, folders);
            if (verdict.Lost == 0 || mayLose || clock.Elapsed > TimeSpan.FromMinutes(3))
            {
                return verdict;
            }
        }
    }

    /// <summary>Waits until the workers, which must be running, have brought everything to the InfluxDB; at once where there is none.</summary>
    public static async Task ForwardedAsync(params IReadOnlyList<string> folders)
    {
        foreach (var folder in folders)
        {
            using var data = DataFolder.Open(folder);
            var clock = Stopwatch.StartNew();
            while (data.Remote is { } remote && (await remote.Outbox.BacklogAsync(default)).Samples > 0 && clock.Elapsed < TimeSpan.FromMinutes(5))
            {
                await Task.Delay(50);
            }
        }
    }

    /// <summary>Waits until nothing has moved between broker and workers for a while and no worker holds a message.</summary>
    public async Task QuietAsync(TimeSpan calm)
    {
        var clock = Stopwatch.StartNew();
        var since = Stopwatch.StartNew();
        var before = Link.Traffic();
        while (since.Elapsed < calm && clock.Elapsed < TimeSpan.FromMinutes(5))
        {
            await Task.Delay(50);
            var now = Link.Traffic();
            if (now != before || now.Outstanding > 0)
            {
                since.Restart();
                before = now;
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Publisher.DisposeAsync();
        foreach (var worker in workers)
        {
            await worker.DisposeAsync();
        }

        await Link.DisposeAsync();
        await Broker.DisposeAsync();
        if (Server is not null)
        {
            await Gate!.DisposeAsync();
            await Server.DisposeAsync();
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (IOException)
        {
            // Left for the machine to clear away: no verdict hangs on it.
        }
    }
}
