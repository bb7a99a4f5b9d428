using System.Reflection;
using System.Text.Json.Nodes;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteRunStoreTests : IDisposable
{
    private static readonly DateTimeOffset Start = DateTimeOffset.FromUnixTimeMilliseconds(1767340800123);

    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;
    private readonly SqliteRunStore store;

    public SqliteRunStoreTests()
    {
        database = SqliteDatabase.Open(folder.Path, FleetSchema.Current);
        store = new SqliteRunStore(database);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void EmptyStore_HasNothing()
    {
        Assert.Empty(store.Read("T1"));
        Assert.Null(store.SettledAt("T1"));
    }

    [Fact]
    public void Basis_IsKeptPerTruck_TheLastOneCounts()
    {
        Assert.Null(store.BasisOf("T1"));

        store.NoteBasis("T1", "one");
        store.NoteBasis("T1", "two\nlines");
        store.NoteBasis("T2", "other");

        Assert.Equal("two\nlines", store.BasisOf("T1"));
    }

    [Fact]
    public void EveryField_ComesBack()
    {
        var run = Full();

        store.Replace("T1", Start, [run], null);

        var read = Assert.Single(store.Read("T1"));
        Assert.Equal(run, read);
        AssertEveryPropertyIsSet(read);
        AssertEveryPropertyIsSet(read.Quality);
        AssertEveryPropertyIsSet(read.FirstPumpDown!, nameof(PumpDown.Refusal));
        Assert.Equal(CheckRefusal.CutShort, Assert.Single(Replaced(run with { FirstPumpDown = run.FirstPumpDown! with { Refusal = CheckRefusal.CutShort } })).FirstPumpDown!.Refusal);
    }

    [Fact]
    public void BareRun_ComesBackWithItsNulls()
    {
        var run = Bare(Start);

        store.Replace("T1", Start, [run], null);

        Assert.Equal(run, Assert.Single(store.Read("T1")));
    }

    [Theory]
    [MemberData(nameof(Notes))]
    public void EveryNote_ComesBack(RunNote note) =>
        Assert.Equal(note, Assert.Single(Assert.Single(Replaced(Bare(Start) with { Quality = new RunQuality(3, 0.5, [note]) })).Quality.Notes));

    public static TheoryData<RunNote> Notes() => new(Enum.GetValues<RunNote>());

    // Other tools read these documents in SQL, so their form is part of the format.
    [Fact]
    public void Body_IsSnakeCaseWithNamesUtcAndNoNulls()
    {
        var run = Bare(Start.ToOffset(TimeSpan.FromHours(-7))) with { PumpTempMaxC = 91.5, Quality = new RunQuality(3, 0.5, [RunNote.PtoInferred]) };
        store.Replace("T1", Start, [run], null);

        var body = JsonNode.Parse((string)database.Run("SELECT body FROM run")!);

        var expected = JsonNode.Parse("""
            {"truck":"T1","start":"2026-01-02T08:00:00.123Z","end":"2026-01-02T08:30:00.124Z","hours_h":0.5,"pump_temp_max_c":91.5,
             "quality":{"samples":3,"coverage":0.5,"notes":["PtoInferred"]}}
            """);
        Assert.True(JsonNode.DeepEquals(expected, body), body!.ToJsonString());
    }

    [Fact]
    public void StartAndEnd_KeepTheirMillisecond_AndComeBackInUtc()
    {
        var run = Assert.Single(Replaced(Bare(Start.ToOffset(TimeSpan.FromHours(5.5)))));

        Assert.Equal((1767340800123L, 1767342600124L), (run.Start.ToUnixTimeMilliseconds(), run.End.ToUnixTimeMilliseconds()));
        Assert.Equal((TimeSpan.Zero, TimeSpan.Zero), (run.Start.Offset, run.End.Offset));
        Assert.Equal(1767340800123L, database.Run("SELECT start_ms FROM run"));
        Assert.Equal(1767342600124L, database.Run("SELECT end_ms FROM run"));
        Assert.Equal(0.5, database.Run("SELECT hours_h FROM run"));
    }

    [Fact]
    public void Read_IsHalfOpenInOrderAndPerTruck()
    {
        Run[] runs = [Bare(Start), Bare(Start.AddHours(1)), Bare(Start.AddHours(2))];
        store.Replace("T1", Start, [runs[2], runs[0], runs[1]], null);
        store.Replace("t1", Start, [Bare(Start) with { Truck = "t1" }], null);

        Assert.Equal(runs, store.Read("T1"));
        Assert.Equal(runs[1..2], store.Read("T1", Start.AddHours(1), Start.AddHours(2)));
        Assert.Equal(runs[1..], store.Read("T1", from: Start.AddMilliseconds(1)));
        Assert.Equal(runs[..1], store.Read("T1", to: Start.AddHours(1)));
        Assert.Equal("t1", Assert.Single(store.Read("t1")).Truck);
    }

    [Fact]
    public void Replace_KeepsWhatStartsEarlier_DropsTheRest_AndSetsTheSettledInstant()
    {
        store.Replace("T1", Start, [Bare(Start), Bare(Start.AddHours(1)), Bare(Start.AddHours(2))], Start.AddHours(1));
        store.Replace("T2", Start, [Bare(Start) with { Truck = "T2" }], Start.AddHours(9));

        store.Replace("T1", Start.AddHours(1), [Bare(Start.AddHours(1.5))], Start.AddHours(2));

        Assert.Equal([Start, Start.AddHours(1.5)], store.Read("T1").Select(r => r.Start));
        Assert.Equal(Start.AddHours(2), store.SettledAt("T1"));
        Assert.Equal(Start.AddHours(9), store.SettledAt("T2"));
        Assert.Single(store.Read("T2"));

        store.Replace("T1", DateTimeOffset.MinValue, [], null);
        Assert.Empty(store.Read("T1"));
        Assert.Null(store.SettledAt("T1"));
    }

    [Fact]
    public void ReplacingWithTheSame_ChangesNothing()
    {
        Run[] runs = [Full(), Bare(Start.AddHours(1))];
        store.Replace("T1", Start, runs, Start.AddHours(1));
        store.Replace("T1", Start, runs, Start.AddHours(1));

        Assert.Equal(runs, store.Read("T1"));
    }

    [Fact]
    public void ReplaceThatFailsHalfWay_LeavesEverythingAsItWas()
    {
        store.Replace("T1", Start, [Bare(Start), Bare(Start.AddHours(1))], Start.AddHours(1));
        database.Run(
            $"CREATE TRIGGER fail BEFORE INSERT ON run WHEN new.start_ms={Start.AddHours(3).ToUnixTimeMilliseconds()} BEGIN SELECT raise(ABORT, 'half way'); END");

        Assert.Throws<SqliteException>(() => store.Replace("T1", Start, [Bare(Start.AddHours(2)), Bare(Start.AddHours(3))], Start.AddHours(3)));

        Assert.Equal([Start, Start.AddHours(1)], store.Read("T1").Select(r => r.Start));
        Assert.Equal(Start.AddHours(1), store.SettledAt("T1"));
    }

    [Fact]
    public void RunsThatDoNotBelong_AreTheCallersFault()
    {
        Assert.Throws<ArgumentException>(() => store.Replace("T1", Start, [Bare(Start) with { Truck = "T2" }], null));
        Assert.Throws<ArgumentException>(() => store.Replace("T1", Start, [Bare(Start.AddMilliseconds(-1))], null));
        Assert.Throws<ArgumentException>(() => store.Replace("T1", Start, [Bare(Start), Bare(Start)], null));
        Assert.Throws<ArgumentException>(() => store.Replace("T1", Start, [Bare(Start) with { VacuumMaxKPa = double.NaN }], null));
    }

    [Theory]
    [InlineData("{\"truck\":\"T1\"}")]
    [InlineData("no json")]
    [InlineData("{\"truck\":\"T1\",\"start\":\"2026-01-02T08:00:00Z\",\"end\":\"2026-01-02T08:00:00Z\",\"hours_h\":1,\"quality\":{\"samples\":1,\"coverage\":1,\"notes\":[\"Later\"]}}")]
    public void BodyOfAnotherVersion_IsSaid(string body)
    {
        database.Run($"INSERT INTO run VALUES('T1', 1, 2, 3, '{body}')");

        var e = Assert.Throws<DatabaseException>(() => store.Read("T1"));

        Assert.Equal($"A run in {database.Path} cannot be read; use the version of Vanehour that wrote it or a newer one.", e.Message);
    }

    [Fact]
    public void LockedByAnother_IsSaid_AndReadingGoesOn()
    {
        store.Replace("T1", Start, [Bare(Start)], null);
        var hasty = new SqliteRunStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current, TimeSpan.FromMilliseconds(200)));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        Assert.Throws<StoreUnavailableException>(() => hasty.Replace("T1", Start, [], null));

        Assert.Single(store.Read("T1"));
    }

    private static Run Bare(DateTimeOffset start) => new()
    {
        Truck = "T1",
        Start = start,
        End = start.AddMinutes(30).AddMilliseconds(1),
        HoursH = 0.5,
        Quality = new RunQuality(0, 0, []),
    };

    // Every value another, none with a finite binary form, so that a swap or a rounding shows.
    private static Run Full() => new()
    {
        Truck = "T1",
        Start = Start,
        End = Start.AddMinutes(47).AddMilliseconds(7),
        HoursH = 1 / 3.0,
        MeterStartH = 2 / 3.0,
        MeterEndH = 4 / 3.0,
        VacuumMeanKPa = 5 / 3.0,
        VacuumMaxKPa = 7 / 3.0,
        MinutesAboveVacuumLimit = 8 / 3.0,
        PressureMaxKPa = 10 / 3.0,
        PumpTempMeanC = 11 / 3.0,
        PumpTempMaxC = 13 / 3.0,
        AmbientMeanC = -14 / 3.0,
        TempRiseK = 16 / 3.0,
        TempHuntingK = 0.31,
        SpeedMeanRpm = 17 / 3.0,
        SpeedOutsideShare = 0.1,
        OilUsedL = 19 / 3.0,
        BaroKPa = 20 / 3.0,
        Quality = new RunQuality(12, 0.9, [RunNote.GapBridged, RunNote.SensorStuck]),
        FirstPumpDown = new PumpDown
        {
            Start = Start.AddSeconds(3),
            IsStartUpCheck = true,
            FittedSamples = 31,
            PlateauKPa = 22 / 3.0,
            EndedAtRelief = true,
            UltimateKPa = 23 / 3.0,
            RatePerS = 25 / 3.0,
            FlowPerVolumePerS = 26 / 3.0,
            FlowPerVolumeSe = 28 / 3.0,
            LeakPerVolumePerS = 29 / 3.0,
            LeakPerVolumeSe = 31 / 3.0,
            FlowLeakCovariance = -32 / 3.0,
            ReferenceVacuumKPa = 34 / 3.0,
            NetFlowPerVolumePerS = 35 / 3.0,
            NetFlowPerVolumeSe = 37 / 3.0,
            LeakRatio = 44 / 3.0,
            LeakRatioSe = 46 / 3.0,
            SpeedRpm = 38 / 3.0,
            AmbientKPa = 40 / 3.0,
            ResidualKPa = 41 / 3.0,
            WatchTime5To12InHgS = 43 / 3.0,
        },
    };

    // Guards the round trip against fields that are added later: one left at its default proves nothing.
    private static void AssertEveryPropertyIsSet(object document, params string[] except)
    {
        foreach (var property in document.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => !except.Contains(p.Name)))
        {
            var value = property.GetValue(document);
            Assert.False(value is null or 0 or 0.0 or false, $"{document.GetType().Name}.{property.Name} is not set");
        }
    }

    private IReadOnlyList<Run> Replaced(Run run)
    {
        store.Replace(run.Truck, Start, [run], null);
        return store.Read(run.Truck);
    }
}
