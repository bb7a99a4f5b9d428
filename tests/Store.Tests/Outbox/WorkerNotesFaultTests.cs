using Microsoft.Extensions.Time.Testing;
using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Sqlite;
using Vanehour.Store.Tests.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>Notes that a server does not take at once, or takes without saying so.</summary>
public sealed class WorkerNotesFaultTests : IAsyncLifetime, IDisposable
{
    private readonly DataFolder folder = new();
    private InfluxStub stub = null!;

    public async Task InitializeAsync() => stub = await InfluxStub.StartAsync();

    public async Task DisposeAsync() => await stub.DisposeAsync();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task NoteThatWasTakenWithoutAnAnswer_IsSentAgainUnderItsInstant()
    {
        await using (var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url)))
        {
            stub.NoteFault = () => new StubFault(0, null, string.Empty) { AfterStoring = true };
            await rig.Store.WriteAsync(Series("T1", 10));
            await Assert.ThrowsAsync<StoreUnavailableException>(() => rig.Forwarder.DrainAsync(default));
            Assert.Single(stub.Notes);
        }

        // The process died there; another goes on, and more has arrived.
        stub.NoteFault = () => null;
        await using var next = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        await next.Store.WriteAsync(Series("T1", 5, Start + 1_000_000));
        await next.Forwarder.DrainAsync(default);

        Assert.Equal(2, stub.Notes.Count);
        Assert.Equal([10, 5], stub.Notes.Values.Select(Added));
        Assert.Equal(0, Waiting(next));
    }

    [Fact]
    public async Task NotesWait_WhileTheServerIsAway_AndOneTellsItAll()
    {
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url));
        stub.NoteFault = () => new StubFault(503, "unavailable", "busy");
        for (var i = 0; i < 5; i++)
        {
            await rig.Store.WriteAsync(Series("T1", 10, Start + (i * 1_000_000L)));
            await Assert.ThrowsAsync<StoreUnavailableException>(() => rig.Forwarder.DrainAsync(default));
        }

        Assert.Empty(stub.Notes);
        Assert.Equal(50, stub.Points("T1").Count);
        stub.NoteFault = () => null;
        await rig.Forwarder.DrainAsync(default);

        // The first was under way; the rest is one.
        Assert.Equal([10, 40], stub.Notes.Values.Select(Added));
    }

    [Fact]
    public async Task UnderLoad_NotesAreFew_AndTheirInstantsRiseThoughTheClockGoesBack()
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 1, 0, 0, 0, TimeSpan.Zero)) { AutoAdvanceAmount = TimeSpan.Zero };
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(stub.Url), time);
        for (var i = 0; i < 20; i++)
        {
            await rig.Store.WriteAsync(Series("T1", 10, Start + (i * 1_000_000L)));
            await rig.Forwarder.DrainAsync(default);
        }

        Assert.Equal(20, stub.Notes.Count);
        Assert.Equal(stub.Notes.Keys.Order(StringComparer.Ordinal), stub.Notes.Keys);
        Assert.Equal(20, stub.Notes.Keys.Distinct().Count());

        // Not told to hurry, it waits for its time.
        await rig.Store.WriteAsync(Series("T1", 10, Start + 90_000_000));
        await rig.Notes.SendAsync(now: false, default);
        Assert.Equal(20, stub.Notes.Count);
    }

    private static int Added(string line)
    {
        var after = line[(line.IndexOf("added", StringComparison.Ordinal) + "added\\\":".Length)..];
        return int.Parse(after[..after.IndexOf(',', StringComparison.Ordinal)], System.Globalization.CultureInfo.InvariantCulture);
    }

    private static long Waiting(OutboxRig rig) =>
        (long)rig.Database.Run("SELECT (SELECT count(*) FROM note_sending) + (SELECT count(*) FROM note_pending)")!;
}
