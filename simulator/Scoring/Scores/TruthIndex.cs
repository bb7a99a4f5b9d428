using Vanehour.Models.Findings;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>The truth by truck, and whether a finding is borne out by it.</summary>
internal sealed class TruthIndex
{
    private readonly ILookup<string, TruthFault> faults;
    private readonly ILookup<string, TruthLife> lives;
    private readonly ILookup<string, TruthCheck> checks;
    private readonly Dictionary<string, double> limits;

    public TruthIndex(FleetTruth truth, IReadOnlyDictionary<string, double> flowKeptLimits)
    {
        faults = truth.Faults.ToLookup(f => f.Truck, StringComparer.Ordinal);
        lives = truth.Lives.ToLookup(l => l.Truck, StringComparer.Ordinal);
        checks = truth.Checks.ToLookup(c => c.Truck, StringComparer.Ordinal);
        limits = new Dictionary<string, double>(flowKeptLimits, StringComparer.Ordinal);
    }

    /// <summary>Whether the truth bears a finding out: by a fault, or by the pump's wear.</summary>
    public bool Explains(FindingStory story) =>
        faults[story.Truck].Any(f => ScoringRules.Explains(f, story.First.Kind) && ScoringRules.CoversInstant(f, story.OpenedAt)) || IsOfWear(story);

    private bool IsOfWear(FindingStory story) => story.First.Kind switch
    {
        FindingKind.VanesNearLimit => IsNearLimit(story),
        FindingKind.VacuumFading => IsNearLimit(story) || WearAt(story.Truck, story.OpenedAt) >= ScoringRules.FadingFromWear,
        _ => false,
    };

    private bool IsNearLimit(FindingStory story) => lives[story.Truck].Any(l =>
        l.FittedAt <= story.OpenedAt
        && !(l.RemovedAt < story.OpenedAt - ScoringRules.AfterRepair)
        && l.LimitAt - ScoringRules.WornBefore <= story.OpenedAt);

    // The wear at the last start-up check before.
    private double? WearAt(string truck, DateTimeOffset at) =>
        checks[truck].LastOrDefault(c => c.At <= at) is { } check && limits.TryGetValue(truck, out var limit)
            ? (1 - check.FlowKept) / (1 - limit)
            : null;
}
