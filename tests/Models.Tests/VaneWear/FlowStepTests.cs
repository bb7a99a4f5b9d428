using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class FlowStepTests
{
    private const int Days = 240;
    private static readonly DateTimeOffset FaultAt = SyntheticFleet.Begin.AddDays(120);

    [Fact]
    public void Leak_IsAStep_AndNoWear()
    {
        var healthy = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.4 });
        var leaking = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.4, LeakFault = day => day >= 120 ? 0.1 : 0 });

        var step = Assert.Single(leaking.Steps);
        Assert.InRange(step.At, FaultAt.AddDays(-4), FaultAt.AddDays(5));
        Assert.InRange(step.Change, -0.1 - (3 * step.ChangeSe), -0.1 + (3 * step.ChangeSe));
        Assert.Equal(FlowStepNature.Leak, step.Nature);
        Assert.Empty(healthy.Steps);

        // A tenth of the flow would be 0.36 of wear.
        Assert.Equal(healthy.Wear!.Mid, leaking.Wear!.Mid, 0.1);
        Assert.Contains(leaking.Remarks, r => r.Contains("no wear", StringComparison.Ordinal));

        // What is not known of the step's size widens the interval.
        Assert.True(leaking.Wear.High - leaking.Wear.Low > healthy.Wear.High - healthy.Wear.Low);

        // The measured flow kept shows the leak; the wear read from it does not.
        var last = leaking.Checks[^1];
        Assert.True(last.FlowKept < 1 - ((1 - SyntheticFleet.FlowKeptLimit) * last.Wear) - 0.05);
    }

    [Fact]
    public void Blockage_IsAStepInFlow()
    {
        var blocked = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.4, BlockageFault = day => day >= 120 ? 0.08 : 0 });
        Assert.Equal(FlowStepNature.Flow, Assert.Single(blocked.Steps).Nature);
    }

    [Fact]
    public void Repair_IsAStepBack_ExplainedByItsRecord()
    {
        var record = new ServiceRecord
        {
            RecordId = "R1",
            Truck = "T1",
            At = SyntheticFleet.Begin.AddDays(180),
            MeterH = 1500,
            Kind = ServiceKind.Gasket,
        };
        var mended = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.4, LeakFault = day => day is >= 100 and < 180 ? 0.1 : 0, Records = [record] });

        Assert.Equal(2, mended.Steps.Length);
        Assert.True(mended.Steps[0].Change < 0 && mended.Steps[1].Change > 0);
        Assert.Null(mended.Steps[0].Service);
        Assert.Equal(ServiceKind.Gasket, mended.Steps[1].Service);
    }

    /// <summary>Wear alone, over forty lives of many rates: the interval's coverage must not suffer from steps that are not there.</summary>
    [Fact]
    public void WearAlone_HardlyEverMakesAStep()
    {
        var trucks = Enumerable.Range(0, 40).Select(i => new SyntheticTruck { Id = $"T{i:D2}", WearPer1000H = 0.1 + (0.02 * i) }).ToList();
        var results = new FleetWear(new WearOptions { Draws = 200 }).Forecast(new SyntheticFleet(trucks, Days, 12).Data(), 1, CancellationToken.None);
        Assert.True(results.Count(r => r.Forecast.Steps.Length > 0) <= 1);
    }

    [Fact]
    public void Rule_FindsTheLeakUntilItIsMended_AndNothingOnHealthyTrucks()
    {
        SyntheticTruck[] trucks =
        [
            new() { Id = "T1", LeakFault = day => day >= 120 ? 0.1 : 0 },
            new() { Id = "T2", LeakFault = day => day is >= 80 and < 160 ? 0.1 : 0 },
            new() { Id = "T3" },
            new() { Id = "T4" },
        ];
        var found = Analyse(trucks).Where(f => f.Kind == FindingKind.LeakOrBlockage).ToList();

        var finding = Assert.Single(found);
        Assert.Equal("T1", finding.Truck);
        Assert.Equal(Cause.LeakTankSide, finding.Causes[0].Cause);
        Assert.InRange(finding.Since, FaultAt.AddDays(-4), FaultAt.AddDays(5));
        Assert.True(finding.Evidence[0].Value < -0.06);
    }

    private static List<Finding> Analyse(SyntheticTruck[] trucks)
    {
        var fleet = new SyntheticFleet(trucks, Days, 21);
        var outcome = new Vanehour.Models.Analysis.AnalysisCore(new Vanehour.Models.Analysis.AnalysisOptions()).Run(fleet.Data(), [], null, CancellationToken.None);
        return [.. outcome.Snapshot.Findings];
    }

    private static WearForecast One(SyntheticTruck truck) =>
        Assert.Single(new FleetWear(new WearOptions()).Forecast(new SyntheticFleet([truck], Days, 7).Data(), 1, CancellationToken.None)).Forecast;
}
