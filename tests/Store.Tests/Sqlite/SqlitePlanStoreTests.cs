using System.Globalization;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqlitePlanStoreTests : IDisposable
{
    private static readonly DateTimeOffset Start = new(2026, 1, 5, 6, 0, 0, TimeSpan.Zero);

    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;
    private readonly SqlitePlanStore store;

    public SqlitePlanStoreTests()
    {
        database = SqliteDatabase.Open(folder.Path, FleetSchema.Current);
        store = new SqlitePlanStore(database);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Latest_IsTheOneSavedLast_AndAsOfKeepsToItsInstant()
    {
        Assert.Null(store.LatestPlan());
        Save("first", 0);
        Save("second", 7);
        Save("second again", 7);
        Save("of an older analysis", 3);

        Assert.Equal("of an older analysis", store.LatestPlan());
        Assert.Equal("of an older analysis", store.LatestPlan(Start.AddDays(7)));
        Assert.Equal("first", store.LatestPlan(Start));
        Assert.Equal("first", store.LatestPlan(Start.AddDays(3).AddMilliseconds(-1)));
        Assert.Null(store.LatestPlan(Start.AddMilliseconds(-1)));
    }

    [Fact]
    public void OfADayTheLastIsKept_TheTenLatestAlways_AndWhatIsOlderThan400DaysGoes()
    {
        for (var day = 0; day < 20; day++)
        {
            foreach (var part in new[] { "a", "b", "c" })
            {
                Save(string.Create(CultureInfo.InvariantCulture, $"{day}{part}"), day);
            }
        }

        // Ten latest: 17 to 19 whole and 16c.
        string[] late = ["17a", "17b", "17c", "18a", "18b", "18c", "19a", "19b", "19c"];
        Assert.Equal([.. Enumerable.Range(0, 17).Select(d => string.Create(CultureInfo.InvariantCulture, $"{d}c")), .. late], Kept());

        // With the new one the nine of days 17 to 19 are the ten latest; of the others those of day 6 and later are within 400 days of day 405 and 18 hours.
        store.SavePlan(Start.AddDays(405.75), Start.AddDays(405.75), "new");
        Assert.Equal([.. Enumerable.Range(6, 11).Select(d => string.Create(CultureInfo.InvariantCulture, $"{d}c")), .. late, "new"], Kept());
        store.SavePlan(Start.AddDays(500), Start.AddDays(500), "newer");
        Assert.Equal([.. late[1..], "new", "newer"], Kept());
        Assert.Equal("newer", store.LatestPlan());
    }

    [Fact]
    public void Marks_AreAddedReplacedAndRemoved_AndNoIdIsUsedTwice()
    {
        var first = store.AddPlanMark("one", []);
        var second = store.AddPlanMark("two", []);
        Assert.Equal([new PlanMarkDocument(first, "one"), new PlanMarkDocument(second, "two")], store.PlanMarks());

        var third = store.AddPlanMark("three", [first]);
        Assert.Equal([new PlanMarkDocument(second, "two"), new PlanMarkDocument(third, "three")], store.PlanMarks());

        Assert.True(store.RemovePlanMark(third));
        Assert.False(store.RemovePlanMark(third));
        var fourth = store.AddPlanMark("four", [third, 999]);
        Assert.True(fourth > third);
        Assert.Equal([second, fourth], store.PlanMarks().Select(m => m.Id));
    }

    [Fact]
    public void AMarkThatCannotBeAdded_ReplacesNothing()
    {
        var first = store.AddPlanMark("one", []);
        database.Run("CREATE TRIGGER full BEFORE INSERT ON plan_mark BEGIN SELECT RAISE(ABORT, 'no'); END");
        Assert.ThrowsAny<Exception>(() => store.AddPlanMark("two", [first]));
        Assert.Equal([new PlanMarkDocument(first, "one")], store.PlanMarks());
    }

    [Fact]
    public void LockedByAnother_IsSaid()
    {
        var hasty = new SqlitePlanStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current, TimeSpan.FromMilliseconds(200)));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        Assert.Throws<StoreUnavailableException>(() => hasty.SavePlan(Start, Start, "x"));
        Assert.Throws<StoreUnavailableException>(() => hasty.AddPlanMark("x", []));
    }

    [Fact]
    public void ADatabaseOfTwoSchemasBefore_KeepsWhatItHolds_AndTakesPlans()
    {
        using var old = new DataFolder();
        var before = SqliteDatabase.Open(old.Path, FleetSchema.Current with { Migrations = FleetSchema.Current.Migrations[..2] });
        before.Run("INSERT INTO pump_model VALUES('Alder 400', '{}'); INSERT INTO truck VALUES('T1', 'North', 'Alder 400', '{\"id\":1}'); INSERT INTO run_basis VALUES('T1', 'basis')");
        before.Run("INSERT INTO service_record VALUES('id:r1', 'T1', 5, 'flush', '{\"note\":2}'); INSERT INTO result VALUES('wear', 'T1', 7, 'body'); INSERT INTO finding VALUES('f1', 'T1', 'RunningHot', 'Open', 3, 'found')");
        Assert.Equal(2L, before.Run("PRAGMA user_version"));

        var now = SqliteDatabase.Open(old.Path, FleetSchema.Current);

        Assert.Equal((long)FleetSchema.Current.Migrations.Length, now.Run("PRAGMA user_version"));
        Assert.Equal("{\"id\":1}", now.Run("SELECT body FROM truck WHERE truck = 'T1'"));
        Assert.Equal("{\"note\":2}", now.Run("SELECT body FROM service_record WHERE key = 'id:r1'"));
        Assert.Equal("basis", now.Run("SELECT body FROM run_basis"));
        Assert.Equal("body", now.Run("SELECT body FROM result"));
        Assert.Equal("found", now.Run("SELECT body FROM finding"));
        Assert.Equal(0L, now.Run("SELECT count(*) FROM service_change"));
        var plans = new SqlitePlanStore(now);
        plans.SavePlan(Start, Start, "plan");
        plans.AddPlanMark("mark", []);
        Assert.Equal(("plan", "mark"), (plans.LatestPlan(), Assert.Single(plans.PlanMarks()).Json));
    }

    private void Save(string json, int day) => store.SavePlan(Start.AddDays(day), Start.AddDays(day), json);

    private List<string> Kept()
    {
        using var connection = database.Connect();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT body FROM plan ORDER BY id";
        using var reader = command.ExecuteReader();
        var bodies = new List<string>();
        while (reader.Read())
        {
            bodies.Add(reader.GetString(0));
        }

        return bodies;
    }
}
