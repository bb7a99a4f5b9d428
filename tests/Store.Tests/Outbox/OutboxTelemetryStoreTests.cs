using System.Diagnostics.Metrics;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Outbox;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Sqlite;
using Vanehour.Store.Tests.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>What is particular to the outbox.</summary>
public sealed class OutboxTelemetryStoreTests : IAsyncLifetime, IDisposable
{
    private readonly DataFolder folder = new();
    private InfluxStub stub = null!;

    public async Task InitializeAsync() => stub = await InfluxStub.StartAsync();

    public async Task DisposeAsync() => await stub.DisposeAsync();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Schema_HasAColumnForEverySignal()
    {
        var database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);
        var columns = (string)database.Run("SELECT group_concat(name) FROM (SELECT name FROM pragma_table_info('outbox') WHERE type='REAL' ORDER BY cid)")!;

        Assert.Equal(SignalInfo.All.Select(s => s.Name), columns.Split(','));
    }

    [Fact]
    public async Task FolderOfTheFirstSchema_KeepsItsSamples()
    {
        var first = SamplesSchema.Current with { Migrations = SamplesSchema.Current.Migrations[..1] };
        using (var old = new SqliteTelemetryStore(SqliteDatabase.Open(folder.Path, first)))
        {
            await old.WriteAsync(Series("T1", 10));
        }

        var database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);
        using var store = new SqliteTelemetryStore(database);

        Assert.Equal(Series("T1", 10), await store.ReadAsync("T1"));
        Assert.Equal(0L, database.Run("SELECT count(*) FROM outbox"));
    }

    [Fact]
    public async Task Taken_IsKnownAsOnItsWay_AndNotReadBack()
    {
        var time = new FakeTimeProvider(DateTimeOffset.FromUnixTimeMilliseconds(Start).AddHours(1));
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url), time);
        await rig.Store.WriteAsync(Series("T2", 3));
        var arrival = time.GetUtcNow();
        time.Advance(TimeSpan.FromMinutes(5));
        await rig.Store.WriteAsync([.. Series("T1", 2), .. Series("T2", 1, Start - 7)]);

        Assert.Equal(new ForwardingBacklog(6, arrival), await rig.Store.BacklogAsync(CancellationToken.None));
        Assert.Equal(TimeSpan.FromMinutes(5), rig.Forwarder.Status().Backlog.Age(time.GetUtcNow()));
        var oldest = await rig.Store.OldestByTruckAsync(CancellationToken.None);
        Assert.Equal([("T1", Start), ("T2", Start - 7)], oldest.Select(o => (o.Key, o.Value)).Order());
        Assert.Empty(await rig.Store.TrucksAsync());
        Assert.Empty(await rig.Store.TouchedAsync());

        Assert.Equal(6, await rig.Forwarder.DrainAsync(CancellationToken.None));

        Assert.Equal(ForwardingBacklog.None, await rig.Store.BacklogAsync(CancellationToken.None));
        Assert.Empty(await rig.Store.OldestByTruckAsync(CancellationToken.None));
        Assert.Equal(["T1", "T2"], (await rig.Store.TouchedAsync()).Select(t => t.Truck));
        Assert.Equal(2, (await rig.Store.ReadAsync("T1")).Count);
    }

    [Fact]
    public async Task InOrderData_CostsNoReads()
    {
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        foreach (var batch in Series("T1", 5000).Chunk(500))
        {
            await rig.Store.WriteAsync(batch);
            await rig.Forwarder.DrainAsync(CancellationToken.None);
        }

        Assert.Equal(0, stub.Queries);
        await rig.Store.WriteAsync(Series("T1", 1));
        await rig.Forwarder.DrainAsync(CancellationToken.None);
        Assert.Equal(1, stub.Queries);
    }

    [Fact]
    public async Task ScatteredLateData_AsksForFewStretches_AndFindsEveryChange()
    {
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));

        // A sample every 3 hours over half a year, then every other one again, with a third of those changed.
        Sample[] first = [.. Enumerable.Range(0, 1400).Select(i => At("T1", Start + (i * 10_800_000L), (Signal.Vacuum, i)))];
        await rig.Store.WriteAsync(first);
        await rig.Forwarder.DrainAsync(CancellationToken.None);
        await rig.Store.SettleAllAsync();
        var again = first.Where((_, i) => i % 2 == 0).Select((s, i) => i % 3 == 2 ? At("T1", s.UnixMs, (Signal.Vacuum, -1)) : s).ToArray();
        await rig.Store.WriteAsync(again);
        await rig.Forwarder.DrainAsync(CancellationToken.None);

        Assert.InRange(stub.Queries, 1, 16);
        Assert.Equal(1400, Assert.Single(await rig.Store.TrucksAsync()).Samples);
        Assert.Equal(again[2].UnixMs, Assert.Single(await rig.Store.TouchedAsync()).EarliestMs);
    }

    // What a kill -9 leaves is the files as they are on disk at that moment: a copy of them is that state.
    [Fact]
    public async Task Killed_HasEveryTakenBatch_AndForwardsItOnce()
    {
        using var after = new DataFolder();
        await using (var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url)))
        {
            await rig.Store.WriteAsync(Series("T1", 7000));
            CopyTo(after);
        }

        await using var reopened = new OutboxRig(after.Path, OutboxRig.Options(stub.Url));
        Assert.Equal(7000, (await reopened.Store.BacklogAsync(CancellationToken.None)).Samples);
        await reopened.Forwarder.DrainAsync(CancellationToken.None);

        Assert.Equal(Series("T1", 7000), stub.Points("T1"));
        Assert.Equal(7000, Assert.Single(await reopened.Store.TrucksAsync()).Samples);
    }

    // The worst moment: the server has the points, and this side does not know it yet.
    [Fact]
    public async Task KilledBetweenServerAndCommit_CountsEveryPointOnceAndTouchesIt()
    {
        using var after = new DataFolder();
        await using (var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url)))
        {
            await rig.Store.WriteAsync(Series("T1", 300));
            await rig.Forwarder.DrainAsync(CancellationToken.None);
            await rig.Store.SettleAllAsync();

            // Half of it is known already, half is new, and one is changed.
            await rig.Store.WriteAsync([.. Series("T1", 500)[200..], At("T1", Start + 2_500_000, (Signal.Vacuum, 99))]);
            stub.Stored += Kill;
            await rig.Forwarder.DrainAsync(CancellationToken.None);
            stub.Stored -= Kill;
        }

        await using var reopened = new OutboxRig(after.Path, OutboxRig.Options(stub.Url));
        Assert.Equal(300, (await reopened.Store.BacklogAsync(CancellationToken.None)).Samples);
        await reopened.Forwarder.DrainAsync(CancellationToken.None);

        Assert.Equal([new TruckExtent("T1", 500, Start, Start + 4_990_000)], await reopened.Store.TrucksAsync());
        Assert.Equal(Start + 2_500_000, Assert.Single(await reopened.Store.TouchedAsync()).EarliestMs);
        Assert.Equal(0, (await reopened.Store.BacklogAsync(CancellationToken.None)).Samples);

        void Kill() => CopyTo(after);
    }

    [Fact]
    public async Task Backlog_DrainsWhileNewDataFlows_AndTheLastToArriveWins()
    {
        var isUp = false;
        stub.Fault = _ => isUp ? null : StubFault.Unavailable;
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        rig.Start();
        await rig.Store.WriteAsync(Series("T1", 60_000));
        await rig.UntilAsync(s => s.State == ForwardingState.Waiting);
        isUp = true;

        // New data, and corrections of what still waits.
        for (var i = 0; i < 100; i++)
        {
            await rig.Store.WriteAsync([.. Series("T2", 100, Start + (i * 1_000_000L)), At("T1", Start + (i * 10_000L), (Signal.Vacuum, 77))]);
        }

        await rig.DrainedAsync();

        var expected = Series("T1", 60_000).Select((s, i) => i < 100 ? At("T1", s.UnixMs, (Signal.Vacuum, 77)) : s);
        Assert.Equal(expected, stub.Points("T1"));
        Assert.Equal(10_000, stub.Points("T2").Count);
        Assert.Equal([60_000, 10_000], (await rig.Store.TrucksAsync()).Select(t => t.Samples));
        Assert.Empty(await rig.RejectedAsync());
    }

    [Fact]
    public async Task SecondForwarderOnAFolder_StandsByUntilTheFirstEnds()
    {
        await using var first = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        first.Start();
        await first.UntilAsync(s => s.State == ForwardingState.Idle);
        await using var second = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        second.Start();
        await second.UntilAsync(s => s.State == ForwardingState.StandingBy);

        await second.Store.WriteAsync(Series("T1", 10));
        await second.DrainedAsync();
        await first.UntilAsync(s => s.Forwarded >= 10);
        Assert.Equal((10, 0), (first.Forwarder.Status().Forwarded, second.Forwarder.Status().Forwarded));

        await first.StopAsync();
        await second.Store.WriteAsync(Series("T1", 20)[10..]);
        await second.DrainedAsync();
        await second.UntilAsync(s => s.Forwarded >= 10);
        Assert.Equal(10, second.Forwarder.Status().Forwarded);
        Assert.Equal(Series("T1", 20), stub.Points("T1"));
    }

    // A limit on the pages of the file fails as a full disk does. It belongs to a connection, so it is set on the pooled one that the store takes over next.
    [Fact]
    public async Task FullDisk_IsSaid_NothingOfTheBatchStays_AndTheOutboxGoesOnOnceThereIsRoom()
    {
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        LimitPages(rig, 25);

        await rig.Store.WriteAsync(Series("T1", 10));
        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => rig.Store.WriteAsync(Series("T2", 20_000)));

        Assert.Equal($"The disk that holds {rig.Database.Path} is full; free some space and start again.", e.Message);
        Assert.Equal(10, (await rig.Store.BacklogAsync(CancellationToken.None)).Samples);
        LimitPages(rig, 1_000_000);
        await rig.Store.WriteAsync(Series("T2", 20_000));
        await rig.Forwarder.DrainAsync(CancellationToken.None);
        Assert.Equal(Series("T1", 10), stub.Points("T1"));
        Assert.Equal(Series("T2", 20_000), stub.Points("T2"));
    }

    [Fact]
    public async Task Metrics_TellSizeAndAge()
    {
        var time = new FakeTimeProvider(DateTimeOffset.UnixEpoch.AddYears(56));
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url), time);
        using var meters = new Meters();
        _ = new ForwardingMetrics(meters, rig.Forwarder, time);
        await rig.Store.WriteAsync(Series("T1", 12));
        time.Advance(TimeSpan.FromSeconds(90));

        Assert.Equal(12, meters.Read("vanehour.outbox.samples"));
        Assert.Equal(90, meters.Read("vanehour.outbox.age"));

        await rig.Forwarder.DrainAsync(CancellationToken.None);
        Assert.Equal(0, meters.Read("vanehour.outbox.samples"));
        Assert.Equal(0, meters.Read("vanehour.outbox.age"));
        Assert.Equal(12, meters.Read("vanehour.outbox.forwarded"));
    }

    private static void LimitPages(OutboxRig rig, int pages)
    {
        Microsoft.Data.Sqlite.SqliteConnection[] pooled = [rig.Database.Connect(), rig.Database.Connect(), rig.Database.Connect()];
        foreach (var connection in pooled)
        {
            connection.Run($"PRAGMA max_page_count={pages}");
            connection.Dispose();
        }
    }

    private void CopyTo(DataFolder after)
    {
        foreach (var file in Directory.GetFiles(folder.Path, "samples.db*").Where(f => !f.EndsWith(".forwarder", StringComparison.Ordinal)))
        {
            File.Copy(file, after.File(Path.GetFileName(file)), overwrite: true);
        }
    }

    private sealed class Meters : IMeterFactory
    {
        private readonly List<Meter> made = [];

        public Meter Create(MeterOptions options)
        {
            made.Add(new Meter(options));
            return made[^1];
        }

        public double Read(string instrument)
        {
            double? value = null;
            using var listener = new MeterListener
            {
                InstrumentPublished = (i, l) =>
                {
                    if (made.Contains(i.Meter) && i.Name == instrument)
                    {
                        l.EnableMeasurementEvents(i);
                    }
                },
            };
            listener.SetMeasurementEventCallback<long>((_, v, _, _) => value = v);
            listener.SetMeasurementEventCallback<double>((_, v, _, _) => value = v);
            listener.Start();
            listener.RecordObservableInstruments();
            return Assert.NotNull(value);
        }

        public void Dispose() => made.ForEach(m => m.Dispose());
    }
}
