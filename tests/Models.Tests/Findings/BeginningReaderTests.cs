using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.ChangePoints;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

/// <summary>Steps are told from drifts, and a service record beside a step is named.</summary>
public sealed class BeginningReaderTests
{
    private const int Days = 130;
    private const int Onset = 91;
    private static readonly DateTimeOffset OnsetAt = SyntheticFleet.Begin.AddDays(Onset);

    [Fact]
    public void OilAtOneStroke_IsAStep_WithItsDay()
    {
        var began = Began(FindingKind.OilUseHigh, t => t with { OilFault = day => day < Onset ? 1 : 1.4 });
        Assert.Equal(ChangeKind.Step, began.Kind);
        Assert.InRange(began.At, OnsetAt.AddDays(-1), OnsetAt.AddDays(3));
        Assert.Equal(0.4 * 0.525, began.Size, 0.04);
        Assert.Null(began.Service);
    }

    [Fact]
    public void OilThatRises_IsADrift()
    {
        var began = Began(FindingKind.OilUseHigh, t => t with { OilFault = day => 1 + (0.012 * Math.Max(0, day - 80)) });
        Assert.Equal(ChangeKind.Drift, began.Kind);
        Assert.InRange(began.At, SyntheticFleet.Begin.AddDays(70), SyntheticFleet.Begin.AddDays(95));
    }

    [Fact]
    public void HeatAtOneStroke_IsAStep_AndTheServiceRecordBesideItIsNamed()
    {
        var record = new ServiceRecord { Truck = "T3", At = OnsetAt, Kind = ServiceKind.Inspection, MeterH = 1300 };
        var began = Began(FindingKind.RunningHot, t => t with { HeatFault = day => day < Onset ? 0 : 12, Records = [record] });
        Assert.Equal(ChangeKind.Step, began.Kind);
        Assert.Equal(ServiceKind.Inspection, began.Service);
    }

    [Fact]
    public void HeatThatRises_IsADrift() =>
        Assert.Equal(ChangeKind.Drift, Began(FindingKind.RunningHot, t => t with { HeatFault = day => 0.3 * Math.Max(0, day - 80) }).Kind);

    [Fact]
    public void ARelief_ThatWasMoved_IsAStep_OneThatWanders_ADrift()
    {
        Assert.Equal(ChangeKind.Step, Began(FindingKind.ReliefSettingMoved, t => t with { ReliefFault = day => day < Onset ? 0 : -6 }).Kind);
        Assert.Equal(ChangeKind.Drift, Began(FindingKind.ReliefSettingMoved, t => t with { ReliefFault = day => -0.15 * Math.Max(0, day - 80) }).Kind);
    }

    private static Beginning Began(FindingKind kind, Func<SyntheticTruck, SyntheticTruck> spoil)
    {
        SyntheticTruck[] trucks = [new() { Id = "T1" }, new() { Id = "T2" }, spoil(new() { Id = "T3" }), new() { Id = "T4" }];
        var data = new SyntheticFleet(trucks, Days, seed: 2).Data();
        var findings = new AnalysisCore(new AnalysisOptions()).Run(data, [], null, CancellationToken.None).Snapshot.Findings;
        return Assert.Single(findings, f => f.Kind == kind).Began ?? throw new InvalidOperationException("No change was seen.");
    }
}
