using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteResultStoreTests : IDisposable
{
    private static readonly DateTimeOffset First = DateTimeOffset.FromUnixTimeMilliseconds(1767340800123);

    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;
    private readonly SqliteResultStore store;

    public SqliteResultStoreTests()
    {
        database = SqliteDatabase.Open(folder.Path, FleetSchema.Current);
        store = new SqliteResultStore(database);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void EmptyStore_HasNothing()
    {
        Assert.Null(store.LatestAsOf());
        Assert.Empty(store.Read(First, "Wear"));
    }

    [Fact]
    public void Documents_ComeBackByKindInOrdinalOrderOfKey()
    {
        ResultDocument[] wear = [Wear("B"), Wear("a"), Wear("b")];

        store.Save(First, [wear[2], new ResultDocument("Model", "B", "{}"), wear[0], wear[1]], 5);

        Assert.Equal(wear, store.Read(First, "Wear"));
        Assert.Equal([new ResultDocument("Model", "B", "{}")], store.Read(First, "Model"));
        Assert.Empty(store.Read(First, "Other"));
        Assert.Equal(wear[0], store.Read(First, "Wear", wear[0].Key));
        Assert.Null(store.Read(First, "Wear", "no such key"));
        Assert.Null(store.Read(First.AddHours(1), "Wear", wear[0].Key));
        Assert.Empty(store.Read(First.AddHours(1), "Wear"));
        Assert.Equal(First, store.LatestAsOf());
    }

    [Fact]
    public void SameInstantAgain_ReplacesAllOfIt()
    {
        store.Save(First, [Wear("T1"), Wear("T2"), new ResultDocument("Model", "m", "{}")], 5);

        store.Save(First, [Wear("T2", "{\"n\":2}")], 5);

        Assert.Equal([Wear("T2", "{\"n\":2}")], store.Read(First, "Wear"));
        Assert.Empty(store.Read(First, "Model"));
    }

    [Fact]
    public void AnalysisThatFoundNothing_WasAnAnalysis()
    {
        store.Save(First, [], 5);

        Assert.Equal(First, store.LatestAsOf());
        Assert.Empty(store.Read(First, "Wear"));
    }

    [Fact]
    public void OnlyTheLastInstantsAreKept()
    {
        for (var i = 0; i < 5; i++)
        {
            store.Save(First.AddHours(i), [Wear("T1")], 3);
        }

        Assert.Equal([0, 0, 1, 1, 1], Enumerable.Range(0, 5).Select(i => store.Read(First.AddHours(i), "Wear").Count));
        Assert.Equal(First.AddHours(4), store.LatestAsOf());
    }

    [Fact]
    public void AnalysisOfThePast_IsKeptWhileItIsTheLastSaved()
    {
        store.Save(First, [Wear("T1")], 2);
        store.Save(First.AddHours(1), [Wear("T1")], 2);

        store.Save(First.AddDays(-30), [Wear("T1")], 2);

        Assert.Single(store.Read(First.AddDays(-30), "Wear"));
        Assert.Empty(store.Read(First, "Wear"));
        Assert.Equal(First.AddHours(1), store.LatestAsOf());
    }

    [Fact]
    public void WrongDocuments_AreTheCallersFault_AndChangeNothing()
    {
        store.Save(First, [Wear("T1")], 5);

        Assert.Throws<ArgumentException>(() => store.Save(First, [Wear("T2"), Wear("T2")], 5));
        Assert.Throws<ArgumentException>(() => store.Save(First, [new ResultDocument("", "T2", "{}")], 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => store.Save(First, [], 0));

        Assert.Equal([Wear("T1")], store.Read(First, "Wear"));
    }

    [Fact]
    public void LockedByAnother_IsSaid_AndNothingIsSaved()
    {
        store.Save(First, [Wear("T1")], 5);
        var hasty = new SqliteResultStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current, TimeSpan.FromMilliseconds(200)));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        Assert.Throws<StoreUnavailableException>(() => hasty.Save(First, [], 5));

        Assert.Single(store.Read(First, "Wear"));
    }

    private static ResultDocument Wear(string key, string json = "{}") => new("Wear", key, json);
}
