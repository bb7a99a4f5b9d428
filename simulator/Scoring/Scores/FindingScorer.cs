using System.Collections.Immutable;
using Vanehour.Models.Findings;
using Vanehour.Models.Regression;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>Holds a replay's findings against the truth.</summary>
public static class FindingScorer
{
    /// <summary>Scores.</summary>
    /// <param name="truth">The truth.</param>
    /// <param name="replay">The findings.</param>
    /// <param name="flowKeptLimits">The flow kept at which wear is 1, by truck.</param>
    public static TruthScore Score(FleetTruth truth, ReplayResult replay, IReadOnlyDictionary<string, double> flowKeptLimits)
    {
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(replay);
        ArgumentNullException.ThrowIfNull(flowKeptLimits);
        var index = new TruthIndex(truth, flowKeptLimits);
        var injected = truth.Faults.Where(f => f.Onset <= replay.To && !(f.Ends <= replay.From)).ToList();
        ImmutableArray<FaultOutcome> outcomes =
        [
            .. injected.Where(f => ScoringRules.IsJudged(f, replay.From, replay.To)).Select(f => Outcome(f, replay.Findings)),
        ];
        ImmutableArray<FindingStory> wrong = [.. replay.Findings.Where(s => !index.Explains(s))];
        var trucks = flowKeptLimits.Keys.Order(StringComparer.Ordinal).ToList();
        var ofTruck = outcomes.ToLookup(o => o.Truck, StringComparer.Ordinal);
        var wrongOf = wrong.ToLookup(s => s.Truck, StringComparer.Ordinal);
        var years = replay.TruckYears / trucks.Count;
        return new TruthScore
        {
            Faults =
            [
                .. injected.GroupBy(f => f.Fault).OrderBy(g => g.Key.ToString(), StringComparer.Ordinal)
                    .Select(g => Sum(g.Key.ToString(), g.Count(), [.. outcomes.Where(o => o.Cause == g.Key)])),
            ],
            All = Sum("all", injected.Count, outcomes),
            Found = Share(_ => true, o => o.IsFound),
            SeriousBeforeHarm = Share(o => o.Serious, o => o.IsFoundBeforeHarm),
            CauseFirst = Share(o => o.IsFound, o => o.Rank == 1),
            CauseInFirstThree = Share(o => o.IsFound, o => o.Rank <= 3),
            FalsePerTruckYear = TruckResampling.Interval([.. trucks.Select(t => (double)wrongOf[t].Count())], [.. trucks.Select(_ => years)]),
            FalseByKind = ByKind(wrong),
            OpenedByKind = ByKind(replay.Findings),
            Reopened = replay.Findings.Sum(s => s.Reopened),
            Outcomes = outcomes,
            False = wrong,
        };

        ShareWithInterval Share(Func<FaultOutcome, bool> of, Func<FaultOutcome, bool> those) => TruckResampling.Interval(
            [.. trucks.Select(t => (double)ofTruck[t].Count(o => of(o) && those(o)))],
            [.. trucks.Select(t => (double)ofTruck[t].Count(of))]);
    }

    private static ImmutableSortedDictionary<FindingKind, int> ByKind(IEnumerable<FindingStory> stories) =>
        stories.GroupBy(s => s.First.Kind).ToImmutableSortedDictionary(g => g.Key, g => g.Count());

    private static FaultOutcome Outcome(TruthFault fault, ImmutableArray<FindingStory> stories)
    {
        var story = stories.FirstOrDefault(s => s.Truck == fault.Truck && ScoringRules.Finds(fault, s.First.Kind) && ScoringRules.IsOpenWithin(fault, s));
        return new FaultOutcome
        {
            Truck = fault.Truck,
            Cause = fault.Fault,
            Onset = fault.Onset,
            Ends = fault.Ends,
            HarmAt = fault.HarmAt,
            Severity = fault.Severity,
            Serious = fault.Serious,
            Story = story,
            Rank = RankIn(story?.First),
            LastRank = RankIn(story?.Last),
        };

        int? RankIn(Finding? finding)
        {
            var place = finding?.Causes.Select(c => c.Cause).ToList().IndexOf(fault.Fault) ?? -1;
            return place < 0 ? null : place + 1;
        }
    }

    private static FaultScore Sum(string name, int injected, ImmutableArray<FaultOutcome> outcomes) => new()
    {
        Fault = name,
        Injected = injected,
        Judged = outcomes.Length,
        Found = outcomes.Count(o => o.IsFound),
        FoundBeforeHarm = outcomes.Count(o => o.IsFoundBeforeHarm),
        CauseFirst = outcomes.Count(o => o.Rank == 1),
        CauseInFirstThree = outcomes.Count(o => o.Rank <= 3),
        MedianLeadH = Median(outcomes.Select(o => o.LeadH)),
        MedianDelayH = Median(outcomes.Select(o => o.DelayH)),
    };

    private static double? Median(IEnumerable<double?> values) => values.OfType<double>().ToList() is { Count: > 0 } known ? Robust.Median(known) : null;
}
