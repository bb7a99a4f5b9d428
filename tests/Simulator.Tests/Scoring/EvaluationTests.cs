using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Scoring;

namespace Vanehour.Simulator.Tests.Scoring;

/// <summary>A small study from end to end; the large ones are commands of their own (bench/Studies), with figures in bench/results.</summary>
[Collection(nameof(Studies))]
public sealed class EvaluationTests
{
    // The seed is none of those that the studies report.
    private static readonly Lazy<EvaluationResult> Small = new(() =>
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 12, Months = 4, Seed = 71 });
        return Evaluation.Run(SimulatedRuns.Fleet(fleet), fleet.Truth(), new AnalysisOptions(), TimeSpan.FromDays(10), null, CancellationToken.None);
    });

    [Fact]
    public void TheDemonstrationsFaults_AreFound_AndByTheRightKind()
    {
        var outcomes = Small.Value.Findings.Outcomes;
        foreach (var cause in new[] { Cause.OilFeedHigh, Cause.OilLineChoked, Cause.LeakTankSide })
        {
            var outcome = Assert.Single(outcomes, o => o.Cause == cause);
            Assert.True(outcome.IsFound, $"{cause} on {outcome.Truck} was not found.");
            Assert.True(outcome.Rank <= 3, $"{cause} ranks {outcome.Rank}.");
        }
    }

    [Fact]
    public void NothingIsLookedAtBeforeItsTime()
    {
        // A finding that knew the future would open before its fault.
        Assert.All(Small.Value.Findings.Outcomes.Where(o => o.IsFound && o.Cause != Cause.VanesWorn), o => Assert.True(o.Story!.OpenedAt >= o.Onset));
        Assert.All(Small.Value.Findings.Outcomes.Where(o => o.IsFound), o => Assert.True(o.Story!.First.Since <= o.Story.OpenedAt));
    }

    [Fact]
    public void FixedThresholds_AreScoredBesideThem_OnTheSameFaults()
    {
        Assert.Equal(Small.Value.Findings.All.Judged, Small.Value.Thresholds.All.Judged);
        Assert.True(Small.Value.Findings.All.Found > Small.Value.Thresholds.All.Found);
        Assert.True(Small.Value.Thresholds.OpenedByKind.Values.Sum() > 0);
        Assert.DoesNotContain(Small.Value.Thresholds.OpenedByKind.Keys, k => k is FindingKind.VanesNearLimit or FindingKind.LeakOrBlockage);
    }

    [Fact]
    public void ATruthOfOtherTrucks_IsRefused()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 1, Months = 1 });
        var life = new TruthLife { Truck = "X9", PumpSerial = "P", FittedAt = fleet.Start, MeterAtFittingH = 0 };
        var failure = Assert.Throws<InvalidOperationException>(() => Evaluation.Run(
            SimulatedRuns.Fleet(fleet), new FleetTruth([], [life], []), new AnalysisOptions(), TimeSpan.FromDays(7), null, CancellationToken.None));
        Assert.Contains("other trucks", failure.Message, StringComparison.Ordinal);
    }
}
