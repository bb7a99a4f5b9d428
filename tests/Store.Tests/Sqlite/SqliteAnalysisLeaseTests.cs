using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteAnalysisLeaseTests : IDisposable
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    private readonly DataFolder folder = new();
    private readonly FakeTimeProvider clock = new(DateTimeOffset.FromUnixTimeMilliseconds(1767340800000)) { AutoAdvanceAmount = TimeSpan.Zero };
    private readonly SqliteAnalysisLease lease;

    public SqliteAnalysisLeaseTests() => lease = Lease();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void SecondAsker_IsToldWhoHasIt()
    {
        Assert.True(lease.TryTake("one", Hour, out var holder));
        Assert.Equal("one", holder);

        Assert.False(Lease().TryTake("two", Hour, out holder));
        Assert.Equal("one", holder);
    }

    [Fact]
    public void Lease_RunsOutByItself()
    {
        lease.TryTake("one", Hour, out _);

        clock.Advance(Hour - TimeSpan.FromMilliseconds(1));
        Assert.False(lease.TryTake("two", Hour, out _));

        clock.Advance(TimeSpan.FromMilliseconds(1));
        Assert.True(lease.TryTake("two", Hour, out var holder));
        Assert.Equal("two", holder);
    }

    [Fact]
    public void TakenAgainByItsHolder_IsRenewed()
    {
        lease.TryTake("one", Hour, out _);
        clock.Advance(Hour / 2);
        Assert.True(lease.TryTake("one", Hour, out _));
        clock.Advance(Hour * 0.75);

        Assert.False(lease.TryTake("two", Hour, out _));
    }

    [Fact]
    public void Released_IsFree_ButOnlyItsHolderCanRelease()
    {
        lease.TryTake("one", Hour, out _);

        lease.Release("two");
        Assert.False(lease.TryTake("two", Hour, out _));

        lease.Release("one");
        Assert.True(lease.TryTake("two", Hour, out _));
    }

    [Fact]
    public void ReleaseOfWhatNobodyHas_IsNoError()
    {
        lease.Release("one");

        Assert.True(lease.TryTake("one", Hour, out _));
    }

    [Fact]
    public void ClockSetBackALittle_KeepsTheLease_FarBack_FreesIt()
    {
        lease.TryTake("one", Hour, out _);

        Assert.False(Lease(-0.5 * Hour).TryTake("two", Hour, out _));
        Assert.True(Lease(TimeSpan.FromDays(-400)).TryTake("two", Hour, out _));
    }

    [Fact]
    public async Task ManyAskingAtOnce_OneGetsIt()
    {
        var taken = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => Task.Run(() => Lease().TryTake($"asker {i}", Hour, out _))));

        Assert.Single(taken, t => t);
    }

    [Fact]
    public void Arguments_AreChecked()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => lease.TryTake("one", TimeSpan.Zero, out _));
        Assert.Throws<ArgumentException>(() => lease.TryTake("", Hour, out _));
    }

    [Fact]
    public void LockedByAnother_IsSaid()
    {
        var database = SqliteDatabase.Open(folder.Path, FleetSchema.Current, TimeSpan.FromMilliseconds(200));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        Assert.Throws<StoreUnavailableException>(() => new SqliteAnalysisLease(database, clock).TryTake("one", Hour, out _));
    }

    private SqliteAnalysisLease Lease(TimeSpan clockIsOff = default) => new(
        SqliteDatabase.Open(folder.Path, FleetSchema.Current),
        clockIsOff == default ? clock : new FakeTimeProvider(clock.GetUtcNow() + clockIsOff));
}
