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
        // What came later is cut away, and the findings up to then are the same, to the last digit of their evidence.
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 6, Months = 4, Seed = 73 });
        var runs = fleet.Trucks.ToDictionary(t => t.Id, t => SimulatedRuns.Of(fleet, t), StringComparer.Ordinal);
        var until = fleet.Start.AddDays(92);
        var whole = Replay(DateTimeOffset.MaxValue);
        var cut = Replay(until);
        Assert.NotEmpty(whole);
        Assert.Equal(whole, cut);

        List<string> Replay(DateTimeOffset known)
        {
            var replayed = new ReplayFleet(
                fleet.PumpModels,
                fleet.Trucks,
                [.. fleet.ServiceRecords.Where(r => r.At <= known)],
                truck => [.. runs[truck].Runs.Where(r => r.End <= known)],
                runs.ToDictionary(r => r.Key, r => (IReadOnlyList<DateTimeOffset>)[.. r.Value.Heard.Select(s => s.At).Where(at => at <= known)], StringComparer.Ordinal));
            var options = new AnalysisOptions();
            return
            [
                .. new FindingReplay(options, [new AnalysisCore(options)]).Run(replayed, fleet.Start.AddDays(20), until, TimeSpan.FromDays(12), null, CancellationToken.None)[0]
                    .Findings.Select(s => $"{s.First.Id} {s.OpenedAt:O} {s.Last.Status} {string.Join(' ', s.Last.Evidence)}"),
            ];
        }
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
        var failure = Assert.Throws<EvaluationException>(() => Evaluation.Run(
            SimulatedRuns.Fleet(fleet), new FleetTruth([], [life], []), new AnalysisOptions(), TimeSpan.FromDays(7), null, CancellationToken.None));
        Assert.Contains("other trucks", failure.Message, StringComparison.Ordinal);
    }
}
