using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteFindingStoreTests : IDisposable
{
    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;
    private readonly SqliteFindingStore store;

    public SqliteFindingStoreTests()
    {
        database = SqliteDatabase.Open(folder.Path, FleetSchema.Current);
        store = new SqliteFindingStore(database);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Findings_ComeBackInOrderOfSinceThenId()
    {
        FindingDocument[] findings = [Finding("c", 1), Finding("B", 2), Finding("a", 2) with { Truck = null }];

        store.Save([findings[2], findings[0], findings[1]]);

        Assert.Equal(findings, store.Read());
    }

    [Fact]
    public void SameId_IsReplacedWhole()
    {
        store.Save([Finding("a", 1), Finding("b", 2)]);
        var changed = new FindingDocument("a", "T9", "RunningHot", "Closed", 3, "{\"x\":1}");

        store.Save([changed]);

        Assert.Equal([Finding("b", 2), changed], store.Read());
    }

    [Fact]
    public async Task UpdatesAtOnce_LoseNothing()
    {
        store.Save([Finding("a", 0)]);
        var others = Enumerable.Range(0, 4).Select(_ => new SqliteFindingStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current))).ToList();

        await Task.WhenAll(others.Select(s => Task.Run(() =>
        {
            for (var i = 0; i < 10; i++)
            {
                s.Update(now => [now[0] with { SinceMs = now[0].SinceMs + 1 }]);
            }
        })));

        Assert.Equal(40, Assert.Single(store.Read()).SinceMs);
    }

    [Fact]
    public void UpdateThatFails_ChangesNothing()
    {
        store.Save([Finding("a", 1)]);
        Assert.Throws<InvalidOperationException>(() => store.Update(_ => throw new InvalidOperationException()));
        store.Update(_ => []);
        Assert.Equal([Finding("a", 1)], store.Read());
    }

    [Fact]
    public void SaveThatFailsHalfWay_SavesNothing()
    {
        store.Save([Finding("a", 1)]);

        Assert.Throws<SqliteException>(() => store.Save([Finding("a", 1) with { Status = "Closed" }, Finding("b", 1) with { Json = null! }]));

        Assert.Equal([Finding("a", 1)], store.Read());
    }

    [Fact]
    public void LockedByAnother_IsSaid()
    {
        var hasty = new SqliteFindingStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current, TimeSpan.FromMilliseconds(200)));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        Assert.Throws<StoreUnavailableException>(() => hasty.Save([Finding("a", 1)]));

        Assert.Empty(store.Read());
    }

    private static FindingDocument Finding(string id, long sinceMs) => new(id, "T1", "OilUseHigh", "Open", sinceMs, "{}");
}
