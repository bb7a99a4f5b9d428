using Vanehour.Models.Findings;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>The truth by truck, and whether a finding is borne out by it.</summary>
internal sealed class TruthIndex
{
    // A stay ends on a day of the calendar; the truck is heard again on its next working day.
    private static readonly TimeSpan Weekend = TimeSpan.FromDays(3);

    private readonly ILookup<string, TruthFault> faults;
    private readonly ILookup<string, TruthLife> lives;
    private readonly ILookup<string, TruthCheck> checks;
    private readonly ILookup<string, TruthDrift> drifts;
    private readonly ILookup<string, TruthStay> stays;
    private readonly ILookup<string, GatewayEvent> gateway;
    private readonly Dictionary<string, double> limits;

    public TruthIndex(FleetTruth truth, IReadOnlyDictionary<string, double> flowKeptLimits)
    {
        faults = truth.Faults.ToLookup(f => f.Truck, StringComparer.Ordinal);
        lives = truth.Lives.ToLookup(l => l.Truck, StringComparer.Ordinal);
        checks = truth.Checks.ToLookup(c => c.Truck, StringComparer.Ordinal);
        drifts = truth.Drifts.ToLookup(d => d.Truck, StringComparer.Ordinal);
        stays = truth.Stays.ToLookup(s => s.Truck, StringComparer.Ordinal);
        gateway = truth.Gateway.ToLookup(g => g.Truck, StringComparer.Ordinal);
        limits = new Dictionary<string, double>(flowKeptLimits, StringComparer.Ordinal);
    }

    /// <summary>Whether the truth bears a finding out: by a fault, or by the pump's wear.</summary>
    public bool Explains(FindingStory story) =>
        faults[story.Truck].Any(f => ScoringRules.Explains(f, story.First.Kind) && ScoringRules.CoversInstant(f, story.OpenedAt)) || IsOfWear(story) || IsOfFeed(story);

    private bool IsOfWear(FindingStory story) => story.First.Kind switch
    {
        FindingKind.VanesNearLimit => IsNearLimit(story),
        FindingKind.VacuumFading => IsNearLimit(story) || drifts[story.Truck].Any(d => d.Onset <= story.OpenedAt) || WearAt(story.Truck, story.OpenedAt) >= ScoringRules.FadingFromWear,
        _ => false,
    };

    // A truck that stayed in was silent, as the finding says; dirt in the telemetry is as real as any fault.
    private bool IsOfFeed(FindingStory story) => story.First.Kind switch
    {
        FindingKind.FeedSilent => stays[story.Truck].Any(s => s.From <= story.OpenedAt && story.OpenedAt <= s.To + Weekend)
            || Happened(story, GatewayEventKind.NoCoverage),
        FindingKind.SensorStuck => Happened(story, GatewayEventKind.Stuck),
        FindingKind.ClockWrong => Happened(story, GatewayEventKind.ClockWrong),
        FindingKind.MeterJumped => Happened(story, GatewayEventKind.MeterRollOver) || Happened(story, GatewayEventKind.MeterReplaced),
        _ => false,
    };

    private bool Happened(FindingStory story, GatewayEventKind kind) =>
        gateway[story.Truck].Any(g => g.Kind == kind && g.From <= story.OpenedAt && story.OpenedAt <= g.To + ScoringRules.AfterRepair);

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
