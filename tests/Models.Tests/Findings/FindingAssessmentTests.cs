using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

/// <summary>One of four trucks gets a fault; it must be found on that truck, with its instant, and on no other.</summary>
public sealed class FindingAssessmentTests
{
    private const int Days = 130;
    private const int Onset = 91;
    private static readonly DateTimeOffset OnsetAt = SyntheticFleet.Begin.AddDays(Onset);

    [Fact]
    public void Healthy_FindsNothing()
    {
        for (var seed = 1; seed <= 3; seed++)
        {
            Assert.Empty(Run(t => t, seed).Findings);
        }
    }

    [Fact]
    public void OilLeak_IsOilUseHighOnThatTruckAlone()
    {
        var finding = Only(Run(t => t with { OilFault = After(1, 1.4) }), FindingKind.OilUseHigh);
        Assert.Equal(Urgency.Week, finding.Urgency);
        Assert.InRange(finding.Since, OnsetAt, OnsetAt.AddDays(2));
        var evidence = Assert.Single(finding.Evidence);
        Assert.Equal("L/h", evidence.Unit);
        Assert.True(evidence.Value > evidence.ExpectedHigh);
        Assert.Contains(finding.Causes.Take(3), c => c.Cause == Cause.OilLeak);
    }

    [Fact]
    public void StarvedPump_IsOilUseLow_Stop()
    {
        var finding = Only(Run(t => t with { OilFault = After(1, 0.2) }), FindingKind.OilUseLow);
        Assert.Equal(Urgency.Stop, finding.Urgency);
        Assert.InRange(finding.Since, OnsetAt, OnsetAt.AddDays(1));
        Assert.Equal(Cause.OilLineChoked, finding.Causes[0].Cause);
    }

    [Fact]
    public void SlowChoking_IsFoundBeforeHalfIsLost()
    {
        // Down by 1 % a day from day 60 on: half is lost at day 110.
        var snapshot = Run(t => t with { OilFault = day => 1 - (0.01 * Math.Clamp(day - 60, 0, 90)) }, asOfDay: 110);
        Only(snapshot, FindingKind.OilUseLow);
    }

    [Fact]
    public void Hot_IsRunningHot_AndWithLittleOilPointsToTheLine()
    {
        var hot = Only(Run(t => t with { HeatFault = After(0, 12) }), FindingKind.RunningHot);
        Assert.Equal(Urgency.Week, hot.Urgency);

        // The mean of several runs is held against the interval of such a mean, not against the wider one of a single run: what is found is seen to lie outside.
        Assert.True(hot.Evidence[0].Value > hot.Evidence[0].ExpectedHigh);
        Assert.True(hot.Evidence[0].ExpectedLow < hot.Evidence[0].ExpectedHigh);

        var both = Run(t => t with { HeatFault = After(0, 12), OilFault = After(1, 0.4) }).Findings;
        Assert.Equal([FindingKind.OilUseLow, FindingKind.RunningHot], both.Select(f => f.Kind));
        Assert.Equal(Cause.OilLineChoked, both[1].Causes[0].Cause);
        Assert.True(both[1].Causes[0].Weight > hot.Causes.Single(c => c.Cause == Cause.OilLineChoked).Weight);
    }

    [Fact]
    public void PastTheTemperatureLimit_IsRunningHot_Stop()
    {
        var finding = Only(Run(t => t with { HeatFault = After(0, 100) }), FindingKind.RunningHot);
        Assert.Equal(Urgency.Stop, finding.Urgency);
        Assert.Equal(2, finding.Evidence.Length);
    }

    [Theory]
    [InlineData(-7, Cause.ReliefLow, Urgency.Week)]
    [InlineData(7, Cause.ReliefHigh, Urgency.Stop)]
    public void ReliefMoved_IsFoundWithItsSide(double shiftKPa, Cause cause, Urgency urgency)
    {
        var finding = Only(Run(t => t with { ReliefFault = After(0, shiftKPa) }), FindingKind.ReliefSettingMoved);
        Assert.Equal(cause, finding.Causes[0].Cause);
        Assert.DoesNotContain(finding.Causes, c => c.Cause is Cause.ReliefLow or Cause.ReliefHigh && c.Cause != cause);
        Assert.Equal(urgency, finding.Urgency);
        Assert.InRange(finding.Since, OnsetAt, OnsetAt.AddDays(3));
    }

    [Fact]
    public void ReliefMoved_SetAgain_IsGone()
    {
        var set = new ServiceRecord { At = OnsetAt.AddDays(14), Truck = "T3", MeterH = 1300, Kind = ServiceKind.ReliefVacuumSet, Value = 60, Unit = "kPa" };
        var snapshot = Run(t => t with { ReliefFault = day => day is >= Onset and < Onset + 14 ? -7 : 0, Records = [set] });
        Assert.Empty(snapshot.Findings);
    }

    [Fact]
    public void HeldAboveTheVacuumLimit_IsFound()
    {
        var finding = Only(Run(t => t with { HeldMinutes = After(0, 4) }), FindingKind.HeldAboveVacuumLimit);
        Assert.InRange(finding.Since, OnsetAt, OnsetAt.AddDays(1));
    }

    [Fact]
    public void Overspeed_IsSpeedOutOfRange() => Only(Run(t => t with { SpeedOutside = After(0, 0.6) }), FindingKind.SpeedOutOfRange);

    [Fact]
    public void PressureAboveTheLimit_IsFound()
    {
        var finding = Only(Run(t => t with { PressureKPa = After(80, 120) }), FindingKind.PressureAboveLimit);
        Assert.Equal(Urgency.Stop, finding.Urgency);
    }

    [Fact]
    public void FastWear_IsVanesNearLimitAndFading()
    {
        var findings = Run(t => t with { WearPer1000H = 2.2 }).Findings;
        Assert.All(findings, f => Assert.Equal("T3", f.Truck));
        Assert.Equal(2, findings.Length);
        Assert.Contains(findings, f => f.Kind == FindingKind.VanesNearLimit);
        var fading = Assert.Single(findings, f => f.Kind == FindingKind.VacuumFading);
        Assert.Equal(Cause.VanesWorn, fading.Causes[0].Cause);
        Assert.Contains(fading.Evidence, e => e.Indicator == "wear per 1000 h");
    }

    [Fact]
    public void Repaired_ClosesByItself()
    {
        Assert.Empty(Run(t => t with { OilFault = day => day is >= Onset and < Onset + 10 ? 1.4 : 1 }).Findings);
    }

    [Fact]
    public void AfterARebuild_ANewLevelIsNoFinding()
    {
        // The rebuilt pump uses a fifth more from its first hour on: within what pumps of a model differ by.
        var rebuild = new ServiceRecord { At = OnsetAt, Truck = "T3", MeterH = 1280, Kind = ServiceKind.Rebuild };
        var snapshot = Run(t => t with { OilFault = After(1, 1.2), Records = [rebuild] });
        Assert.Empty(snapshot.Findings);
        Assert.Equal("P-T3", snapshot.Wear.Single(w => w.Truck == "T3").PumpSerial);
        Assert.True(snapshot.Wear.Single(w => w.Truck == "T3").HoursSinceFitting < 150);
    }

    [Fact]
    public void AfterRemoval_ThereIsNeitherWearNorFinding()
    {
        var removal = new ServiceRecord { At = OnsetAt, Truck = "T3", MeterH = 1280, Kind = ServiceKind.Removed };
        var snapshot = Run(t => t with { OilFault = _ => 1, Records = [removal] });
        Assert.Empty(snapshot.Findings);
        Assert.DoesNotContain(snapshot.Wear, w => w.Truck == "T3");
        Assert.Contains(snapshot.Series, s => s.Truck == "T3");
    }

    [Fact]
    public void EveryKindJudged_IsKnownWithCausesChecksAndCautions()
    {
        foreach (var kind in AnalysisCore.JudgedKinds)
        {
            var known = Knowledge.Default.Of(kind);
            Assert.NotNull(known);
            Assert.All(known.Causes, c =>
            {
                Assert.True(c.Weight > 0);
                Assert.NotEmpty(c.Check);
                Assert.NotEmpty(c.Source);
                Assert.NotEmpty(c.Cautions);
                Assert.All(c.Cautions, name => Assert.Contains(name, Knowledge.Default.Cautions.Keys));
            });
            var (causes, checks) = Knowledge.Default.Explain(new FindingDraft(kind, OnsetAt, false, []), new HashSet<FindingKind>(), []);
            Assert.Equal(1, causes.Sum(c => c.Weight), 12);
            Assert.Equal(causes.OrderByDescending(c => c.Weight), causes);
            Assert.Equal(checks.Length, checks.Select(c => c.Name).Distinct().Count());
        }
    }

    private static Func<double, double> After(double before, double after) => day => day < Onset ? before : after;

    private static Vanehour.Models.Results.AnalysisSnapshot Run(Func<SyntheticTruck, SyntheticTruck> spoil, int seed = 1, int asOfDay = Days)
    {
        SyntheticTruck[] trucks =
        [
            new() { Id = "T1", OilFactor = 0.9, WarmerK = -4 },
            new() { Id = "T2", OilFactor = 1.0, WarmerK = 2 },
            spoil(new() { Id = "T3", OilFactor = 1.05 }),
            new() { Id = "T4", OilFactor = 1.12, WarmerK = 4 },
        ];
        var data = new SyntheticFleet(trucks, Days, seed).Data(SyntheticFleet.Begin.AddDays(asOfDay));
        return new AnalysisCore(new AnalysisOptions()).Run(data, [], null, CancellationToken.None).Snapshot;
    }

    private static Finding Only(Vanehour.Models.Results.AnalysisSnapshot snapshot, FindingKind kind)
    {
        var finding = Assert.Single(snapshot.Findings);
        Assert.Equal("T3", finding.Truck);
        Assert.Equal("P-T3", finding.PumpSerial);
        Assert.Equal(kind, finding.Kind);
        Assert.Equal(FindingStatus.Open, finding.Status);
        Assert.NotEmpty(finding.Causes);
        Assert.NotEmpty(finding.Checks);
        Assert.All(finding.Checks, c => Assert.NotEmpty(c.Caution));
        return finding;
    }
}
