using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Scoring;

namespace Vanehour.Simulator.Tests.Scoring;

/// <summary>A truth and findings small enough to score by hand.</summary>
public sealed class FindingScorerTests
{
    private static readonly DateTimeOffset Begin = new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset End = Begin.AddDays(200);

    [Fact]
    public void ByHand()
    {
        var truth = new FleetTruth(
            [
                Fault("T1", Cause.OilLeak, 50),
                Fault("T2", Cause.OilLineChoked, 60, harm: 70) with { Serious = true, Findings = ["OilUseLow"] },
                Fault("T3", Cause.OilLeak, 100),
                Fault("T3", Cause.CoolingPoor, 190) with { Serious = true, Findings = ["RunningHot"] },
            ],
            [],
            []);
        var score = Score(
            truth,
            Story("T1", FindingKind.OilUseHigh, 53, Cause.OilFeedHigh, Cause.OilLeak),
            Story("T2", FindingKind.RunningHot, 66, Cause.CoolingPoor),
            Story("T2", FindingKind.OilUseLow, 71, Cause.OilLineChoked),
            Story("T3", FindingKind.OilUseHigh, 90, Cause.OilLeak),
            Story("T4", FindingKind.FeedSilent, 20, Cause.GatewaySilent));

        // Four injected; the last shows for ten days only and is not judged. T3's finding opened before its leak: false, and the leak was missed.
        Assert.Equal((4, 3, 2, 1), (score.All.Injected, score.All.Judged, score.All.Found, score.All.FoundBeforeHarm));
        Assert.Equal((1, 2), (score.All.CauseFirst, score.All.CauseInFirstThree));
        Assert.Equal(2.0 / 3, score.Found.Mid!.Value, 12);
        Assert.Equal(0, score.SeriousBeforeHarm.Mid);
        Assert.Equal(0.5, score.CauseFirst.Mid);

        // The starved pump ran hot: no false finding. Two false ones in 4 x 200 days.
        Assert.Equal([FindingKind.OilUseHigh, FindingKind.FeedSilent], score.False.Select(s => s.First.Kind).Order());
        Assert.Equal(2 / (4 * 200 / 365.25), score.FalsePerTruckYear.Mid!.Value, 12);
        Assert.InRange(score.FalsePerTruckYear.Mid.Value, score.FalsePerTruckYear.Low!.Value, score.FalsePerTruckYear.High!.Value);

        var leak = score.Faults.Single(f => f.Fault == "OilLeak");
        Assert.Equal((2, 2, 1), (leak.Injected, leak.Judged, leak.Found));
        Assert.Equal(72, leak.MedianDelayH);
        Assert.Equal(-24, score.Faults.Single(f => f.Fault == "OilLineChoked").MedianLeadH);
    }

    [Fact]
    public void VanesNearTheirLimit_AreTrueByTheWearAlone()
    {
        var life = new TruthLife { Truck = "T1", PumpSerial = "P", FittedAt = Begin.AddDays(-300), MeterAtFittingH = 0, LimitAt = Begin.AddDays(150) };
        var score = Score(
            new FleetTruth([], [life], []),
            Story("T1", FindingKind.VanesNearLimit, 150 - 84, Cause.VanesWorn),
            Story("T1", FindingKind.VanesNearLimit, 150 - 85, Cause.VanesWorn));
        Assert.Equal(Begin.AddDays(150 - 85), Assert.Single(score.False).OpenedAt);
    }

    [Fact]
    public void FadingVacuum_IsTrueFromTheWearOfTheLastCheck()
    {
        // The limit is at 0.7 of the flow: 0.85 of it is a wear of one half, 0.79 one of 0.7.
        TruthCheck Check(int day, double flow) => new() { Truck = "T1", At = Begin.AddDays(day), Complete = true, GasShare = 1, FlowKept = flow };
        var score = Score(
            new FleetTruth([], [], [Check(10, 0.85), Check(40, 0.79)]),
            Story("T1", FindingKind.VacuumFading, 39, Cause.VanesWorn),
            Story("T1", FindingKind.VacuumFading, 41, Cause.VanesWorn));
        Assert.Equal(Begin.AddDays(39), Assert.Single(score.False).OpenedAt);
    }

    [Fact]
    public void FadingVacuum_OfVanesThatBeganToWearFaster_IsTrue_FromThenOn()
    {
        var score = Score(
            new FleetTruth([], [], []) { Drifts = [new TruthDrift("T1", Begin.AddDays(50), 2.5)] },
            Story("T1", FindingKind.VacuumFading, 49, Cause.VanesWorn),
            Story("T1", FindingKind.VacuumFading, 60, Cause.VanesWorn));
        Assert.Equal(Begin.AddDays(49), Assert.Single(score.False).OpenedAt);
    }

    [Fact]
    public void ASilentTruck_ThatStayedIn_WasSilent()
    {
        var score = Score(
            new FleetTruth([], [], []) { Stays = [new TruthStay("T1", Begin.AddDays(10), Begin.AddDays(16))] },
            Story("T1", FindingKind.FeedSilent, 15, Cause.GatewaySilent),
            Story("T1", FindingKind.FeedSilent, 20, Cause.GatewaySilent));
        Assert.Equal(Begin.AddDays(20), Assert.Single(score.False).OpenedAt);
    }

    private static TruthScore Score(FleetTruth truth, params FindingStory[] stories) => FindingScorer.Score(
        truth,
        new ReplayResult(Begin, End, TimeSpan.FromDays(1), 4 * 200 / 365.25, [.. stories], []),
        new Dictionary<string, double> { ["T1"] = 0.7, ["T2"] = 0.7, ["T3"] = 0.7, ["T4"] = 0.7 });

    private static TruthFault Fault(string truck, Cause cause, int onset, int? harm = null) => new()
    {
        Truck = truck,
        PumpSerial = "P",
        Fault = cause,
        Onset = Begin.AddDays(onset),
        Severity = 0.5,
        Serious = false,
        HarmAt = harm is { } day ? Begin.AddDays(day) : null,
        Findings = ["OilUseHigh"],
    };

    private static FindingStory Story(string truck, FindingKind kind, int opened, params Cause[] causes) => new(
        new Finding
        {
            Id = $"{truck}{kind}{opened}",
            Truck = truck,
            Kind = kind,
            Urgency = Urgency.Week,
            Status = FindingStatus.Open,
            Since = Begin.AddDays(opened - 1),
            Evidence = [],
            Causes = [.. causes.Select(c => new RankedCause(c, 1.0 / causes.Length))],
            Checks = [],
        },
        Begin.AddDays(opened));
}
