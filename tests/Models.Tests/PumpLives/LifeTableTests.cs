using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.PumpLives;

public sealed class LifeTableTests
{
    private static readonly DateTimeOffset Begin = new(2024, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private static readonly PumpModel Model = new SyntheticFleet([], 1, 1).Model with { Model = "M" };

    [Fact]
    public void Endings_AreReadFromTheRecords()
    {
        var table = Table([Truck("T1")],
        [
            Record("T1", 1, 1, ServiceKind.InletFilter),
            Record("T1", 200, 800, ServiceKind.Rebuild),
            Record("T1", 400, 1500, ServiceKind.Failure),
            Record("T1", 405, 1500, ServiceKind.Rebuild),
            Record("T1", 600, 2000, ServiceKind.Removed),
            Record("T1", 605, 2000, ServiceKind.Rebuild),
            Record("T1", 610, 2000, ServiceKind.Fitted) with { PumpSerial = "Q" },
            Record("T1", 700, 2300, ServiceKind.InletFilter),
        ]);
        Assert.Equal(
            [(LifeEnding.Rebuilt, 800.0), (LifeEnding.Failed, 700), (LifeEnding.Removed, 500), (LifeEnding.Running, 300)],
            table.Lives.Select(l => (l.Ending, l.ExitH)));
        Assert.All(table.Lives, l => Assert.Equal(0, l.EntryH));
        Assert.Equal(new Lifetime(0, 700, true), table.Lives[1].Lifetime);
        Assert.Empty(table.Problems);
    }

    [Fact]
    public void FirstLife_WhoseRecordsBeginLate_EntersLate_LaterLivesDoNot()
    {
        var table = Table([Truck("T1")], [Record("T1", 100, 400, ServiceKind.InletFilter), Record("T1", 200, 800, ServiceKind.Rebuild), Record("T1", 300, 1200, ServiceKind.Failure)]);
        Assert.Equal([new Lifetime(400, 800, false), new Lifetime(0, 400, true)], table.Lives.Select(l => l.Lifetime));
    }

    [Fact]
    public void ReplacedMeter_IsCountedOver()
    {
        var table = Table([Truck("T1")],
        [
            Record("T1", 1, 2, ServiceKind.InletFilter),
            Record("T1", 100, 400, ServiceKind.MeterReplaced) with { Value = 5, Unit = "h" },
            Record("T1", 200, 305, ServiceKind.Failure),
        ]);
        Assert.Equal((700, LifeEnding.Failed), (table.Lives[0].ExitH, table.Lives[0].Ending));
        Assert.Empty(table.Problems);
    }

    [Fact]
    public void Contradictions_AreReported_NotGuessedAt()
    {
        var table = Table(
            [Truck("T1"), Truck("T2"), Truck("T3"), Truck("T4") with { PumpSerial = "SHARED" }, Truck("T5") with { PumpSerial = "SHARED" }, Truck("T6"), Truck("T7")],
            [
                Record("T1", 50, 300, ServiceKind.InletFilter),
                Record("T1", 60, 200, ServiceKind.Failure),
                Record("T2", 2, 900, ServiceKind.Failure),
                Record("T3", 1, 1, ServiceKind.InletFilter),
                Record("T3", 100, 400, ServiceKind.Removed),
                Record("T3", 120, 400, ServiceKind.Failure),
                Record("T3", 130, 400, ServiceKind.Removed),
                Record("T6", 30, 0, ServiceKind.Failure),
                Record("T7", 90, 600, ServiceKind.Failure),
            ]);
        Assert.Equal(["T3"], table.Lives.Select(l => l.Truck));
        Assert.Equal(
            [
                ("T1", "the meter reads 100.0 h less than in an earlier record, and no replaced meter is recorded"),
                ("T2", "900 PTO hours do not fit into the 72 h since it was fitted"),
                ("T3", "a failure is recorded while no pump was on the truck"),
                ("T3", "a removal is recorded while no pump was on the truck"),
                ("T4", "pump SHARED is recorded on truck T5 at the same time"),
                ("T5", "pump SHARED is recorded on truck T4 at the same time"),
                ("T6", "it ended without a PTO hour on the meter"),
                ("T7", "its records begin with its end"),
            ],
            table.Problems.Select(p => (p.Truck, p.Why)));
    }

    [Fact]
    public void Summary_SaysWhatIsMissing()
    {
        var none = Assert.Single(new LifeStudy(new LifeOptions()).Of(Table([Truck("T1")], [Record("T1", 1, 1, ServiceKind.InletFilter), Record("T1", 100, 400, ServiceKind.InletFilter)])));
        Assert.Equal((1, 0, 1), (none.Lives, none.Failures, none.Running));
        Assert.Null(none.Weibull);
        Assert.Null(none.MedianLifeH.Mid);
        Assert.Contains("Nothing has failed yet, so no distribution is fitted.", none.Remarks);

        var few = Assert.Single(new LifeStudy(new LifeOptions()).Of(Table([Truck("T1")],
        [
            Record("T1", 1, 1, ServiceKind.InletFilter),
            Record("T1", 100, 400, ServiceKind.Failure),
            Record("T1", 190, 700, ServiceKind.VaneWidth) with { Value = 50, Unit = "mm" },
            Record("T1", 200, 800, ServiceKind.Rebuild),
        ])));
        Assert.Equal((400, 1), (few.MedianLifeH.Mid, few.PlannedRebuilds));
        Assert.Contains("One failure is too few for a distribution; it takes 3.", few.Remarks);
        Assert.Contains(few.Remarks, r => r.StartsWith("1 of the planned rebuilds followed a measured vane width", StringComparison.Ordinal));
    }

    [Fact]
    public void Summary_FitsWhatHasFailed()
    {
        // Every truck's pump fails again and again; the meter then is that of the failure.
        double[] lives = [700, 900, 1000, 1100, 1300, 800, 950];
        var at = 0.0;
        var records = new List<ServiceRecord> { Record("T1", 0, 1, ServiceKind.InletFilter) };
        foreach (var (life, i) in lives.Select((l, i) => (l, i)))
        {
            at += life;
            records.Add(Record("T1", 100 * (i + 1), at, ServiceKind.Failure));
        }

        var model = Assert.Single(new LifeStudy(new LifeOptions()).Of(Table([Truck("T1")], records)));
        var fit = WeibullFit.Fit([.. lives.Select(l => new Lifetime(0, l, true))]);
        Assert.Equal(7, model.Failures);
        Assert.Equal(fit.Shape, model.Weibull!.Shape, 9);
        Assert.Equal(950, model.MedianLifeH.Mid);
        Assert.Equal(fit.Quantile(0.1), model.B10H!.Mid!.Value, 6);
        Assert.True(model.B10H.Low < model.B10H.Mid && model.B10H.Mid < model.B10H.High);
        Assert.Equal(AgeReplacement.Best(fit.Shape, fit.Scale, 1, 4).Age, model.Replacement!.AgeH);
        Assert.Empty(model.Remarks);
    }

    [Fact]
    public void Options_ThatCannotBe_AreNamed()
    {
        Assert.Empty(new LifeOptions().Problems());
        Assert.Equal(3, new LifeOptions { FailureCostRatio = 1, FewestFailures = 1, Level = double.NaN }.Problems().Count());
    }

    private static LifeTable Table(IReadOnlyList<Truck> trucks, IReadOnlyList<ServiceRecord> records) =>
        LifeTable.Build(FleetData.Build([Model], trucks, records, _ => Array.Empty<Run>(), Begin.AddDays(1000)));

    private static Truck Truck(string id) => new()
    {
        Id = id,
        Yard = "Y",
        PumpModel = "M",
        PumpSerial = "P-" + id,
        PumpFitted = Begin,
        MeterAtFittingH = 0,
        TankVolume = Volume.FromLitres(9000),
        TimeZone = "UTC",
    };

    private static ServiceRecord Record(string truck, double day, double meterH, ServiceKind kind) => new() { Truck = truck, At = Begin.AddDays(day), MeterH = meterH, Kind = kind };
}
