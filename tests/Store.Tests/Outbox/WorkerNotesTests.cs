using Microsoft.Data.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>Workers with data folders of their own forward to one server, Debian's influxd 1.6 behind the shim, and each learns what the others did.</summary>
public sealed class WorkerNotesTests(InfluxFixture influx) : IClassFixture<InfluxFixture>, IAsyncLifetime
{
    private readonly string folderA = Directory.CreateTempSubdirectory("vanehour-notes-").FullName;
    private readonly string folderB = Directory.CreateTempSubdirectory("vanehour-notes-").FullName;
    private InfluxOptions options = null!;
    private readonly List<OutboxRig> rigs = [];

    private OutboxRig A => rigs[0];

    private OutboxRig B => rigs[1];

    public async Task InitializeAsync()
    {
        if (InfluxDaemon.IsMissing)
        {
            return;
        }

        options = OutboxRig.Options(influx.Shim.Url);
        options.Bucket = await influx.Daemon.CreateDatabaseAsync();
        rigs.Add(new OutboxRig(folderA, options, worker: "a"));
        rigs.Add(new OutboxRig(folderB, options, worker: "b"));
    }

    public async Task DisposeAsync()
    {
        foreach (var rig in rigs)
        {
            await rig.DisposeAsync();
        }

        if (rigs.Count > 0)
        {
            await influx.Daemon.DropDatabaseAsync(options.Bucket);
        }

        SqliteConnection.ClearAllPools();
        Directory.Delete(folderA, recursive: true);
        Directory.Delete(folderB, recursive: true);
    }

    [SkippableFact]
    public async Task WhatAnotherForwarded_IsKnownHere()
    {
        _ = influx.Daemon;
        await B.Store.WriteAsync([.. Series("T1", 100), .. Series("T2", 50)]);
        await B.Forwarder.DrainAsync(default);
        Assert.Empty(await A.Store.TrucksAsync());

        Assert.Equal(1, await A.Notes.PullAsync(default));

        Assert.Equal(await B.Store.TrucksAsync(), await A.Store.TrucksAsync());
        Assert.Equal([("T1", Start), ("T2", Start)], (await A.Store.TouchedAsync()).Select(t => (t.Truck, t.EarliestMs)));
        Assert.Equal(Series("T1", 100), await A.Store.ReadAsync("T1"));

        // Once read is read, by this and by the next to open the folder.
        var touched = await A.Store.TouchedAsync();
        Assert.Equal(0, await A.Notes.PullAsync(default));
        await using var again = new OutboxRig(folderA, options, worker: "a");
        Assert.Equal(0, await again.Notes.PullAsync(default));
        Assert.Equal(touched, await A.Store.TouchedAsync());

        // One's own notes are no news.
        Assert.Equal(0, await B.Notes.PullAsync(default));
    }

    [SkippableFact]
    public async Task LateSamplesOfAnother_MoveTheTouchBack_AndARedeliveryTouchesNothing()
    {
        _ = influx.Daemon;
        await B.Store.WriteAsync(Series("T1", 100, Start + 5_000_000));
        await B.Forwarder.DrainAsync(default);
        await A.Notes.PullAsync(default);
        await A.Store.SettleAsync((await A.Store.TouchedAsync())[0]);

        await B.Store.WriteAsync(Series("T1", 100, Start + 5_000_000));
        await B.Forwarder.DrainAsync(default);
        Assert.Equal(0, await A.Notes.PullAsync(default));
        Assert.Empty(await A.Store.TouchedAsync());

        await B.Store.WriteAsync(Series("T1", 10, Start + 1_000_000));
        await B.Forwarder.DrainAsync(default);
        Assert.Equal(1, await A.Notes.PullAsync(default));
        Assert.Equal(Start + 1_000_000, Assert.Single(await A.Store.TouchedAsync()).EarliestMs);
        Assert.Equal((110, Start + 1_000_000, Start + 5_990_000), Extent(Assert.Single(await A.Store.TrucksAsync())));
    }

    [SkippableFact]
    public async Task ManyTrucks_TakeSeveralNotes_AndAllArrive()
    {
        _ = influx.Daemon;
        await B.Store.WriteAsync([.. Enumerable.Range(0, 700).SelectMany(i => Series($"T{i:D3}", 2))]);
        await B.Forwarder.DrainAsync(default);
        Assert.Equal(3, await A.Notes.PullAsync(default));
        Assert.Equal(await B.Store.TrucksAsync(), await A.Store.TrucksAsync());
        Assert.Equal(700, (await A.Store.TouchedAsync()).Count);
    }

    [SkippableFact]
    public async Task BothAtOnce_KnowTheSameInTheEnd()
    {
        _ = influx.Daemon;
        A.Start();
        B.Start();
        for (var i = 0; i < 20; i++)
        {
            // A truck's messages come to either, as with a shared subscription.
            await (i % 2 == 0 ? A : B).Store.WriteAsync(Series("T1", 100, Start + (i * 1_000_000L)));
            await (i % 3 == 0 ? A : B).Store.WriteAsync(Series("T2", 100, Start + (i * 1_000_000L)));
        }

        await A.DrainedAsync();
        await B.DrainedAsync();
        await A.StopAsync();
        await B.StopAsync();
        await A.Notes.SendAsync(now: true, default);
        await B.Notes.SendAsync(now: true, default);
        await A.Notes.PullAsync(default);
        await B.Notes.PullAsync(default);

        Assert.Equal(await A.Store.TrucksAsync(), await B.Store.TrucksAsync());
        Assert.Equal([2000, 2000], (await A.Store.TrucksAsync()).Select(t => t.Samples));
        foreach (var truck in await A.Store.TrucksAsync())
        {
            Assert.Equal(2000, (await A.Store.ReadAsync(truck.Truck)).Count);
        }
    }

    [SkippableFact]
    public async Task ServerThatHeldSamplesBefore_IsFoundOut()
    {
        _ = influx.Daemon;
        await B.Store.WriteAsync([.. Series("T1", 300), .. Series("T2", 20)]);
        await B.Forwarder.DrainAsync(default);
        await influx.Daemon.ExecuteAsync($"DROP MEASUREMENT {WorkerNotes.Measurement}", options.Bucket);
        Assert.Equal(0, await A.Notes.PullAsync(default));

        await A.Extents.ReconcileAsync(default);

        Assert.Equal(await B.Store.TrucksAsync(), await A.Store.TrucksAsync());
        Assert.Equal([Start, Start], (await A.Store.TouchedAsync()).Select(t => t.EarliestMs));
        foreach (var touched in await A.Store.TouchedAsync())
        {
            await A.Store.SettleAsync(touched);
        }

        // What is known already is no news.
        await A.Extents.ReconcileAsync(default);
        Assert.Empty(await A.Store.TouchedAsync());

        // Samples that came without a note: from the last known on.
        await B.Store.WriteAsync(Series("T2", 20, Start + 9_000_000));
        await B.Forwarder.DrainAsync(default);
        await A.Extents.ReconcileAsync(default);
        Assert.Equal(("T2", Start + 190_001), (await A.Store.TouchedAsync()).Select(t => (t.Truck, t.EarliestMs)).Single());
    }

    [SkippableFact]
    public async Task WhatTheServersRetentionCut_IsRememberedAsACut()
    {
        _ = influx.Daemon;
        await A.Store.WriteAsync([.. Series("T1", 300), .. Series("T2", 300)]);
        await A.Forwarder.DrainAsync(default);
        await A.Extents.ReconcileAsync(default);
        Assert.All(await A.Store.TrucksAsync(), t => Assert.Equal(long.MinValue, t.KeptFromMs));

        await influx.Daemon.ExecuteAsync($"DELETE FROM pump WHERE truck = 'T1' AND time < {Start + 1_000_000}ms", options.Bucket);
        await A.Extents.ReconcileAsync(default);

        Assert.Equal([Start + 1_000_000, long.MinValue], (await A.Store.TrucksAsync()).Select(t => t.KeptFromMs));
    }

    private static (long Samples, long FirstMs, long LastMs) Extent(Store.Telemetry.TruckExtent e) => (e.Samples, e.FirstMs, e.LastMs);
}
