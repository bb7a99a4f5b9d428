using System.Collections.Immutable;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Findings;

/// <summary>Puts every rule to a pump, and explains what they find by the knowledge table.</summary>
/// <param name="rules">The rules.</param>
/// <param name="knowledge">The table.</param>
public sealed class FindingAssessment(IReadOnlyList<IFindingRule> rules, Knowledge knowledge)
{
    /// <summary>The rules there are.</summary>
    public static IReadOnlyList<IFindingRule> Rules(FindingOptions options, ShiftOptions shift) =>
        [new IndicatorShiftRule(shift), new RunLimitRule(options), new WatchedRule(), new ReliefRule(options, shift), new WearRule(options, shift), new FlowStepRule(options), new FeedRule(options)];

    /// <summary>What shows on a pump now, one for each kind, as open findings with ids that a first sighting would have.</summary>
    public ImmutableArray<Finding> Assess(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var drafts = rules.SelectMany(r => r.Look(state)).GroupBy(d => d.Kind).Select(Merge).ToList();
        var kinds = drafts.Select(d => d.Kind).ToHashSet();
        return [.. drafts.OrderBy(d => d.Kind).Select(d => Compose(d, kinds, state))];
    }

    // Two rules may see one thing: the earlier instant and all of the evidence count.
    private static FindingDraft Merge(IGrouping<FindingKind, FindingDraft> drafts) => new(
        drafts.Key,
        drafts.Min(d => d.Since),
        drafts.Any(d => d.IsPastLimit),
        [.. drafts.SelectMany(d => d.Evidence)])
    {
        Side = drafts.First().Side,
        Watched = drafts.Select(d => d.Watched).FirstOrDefault(w => w is not null),
    };

    private Finding Compose(FindingDraft draft, HashSet<FindingKind> kinds, PumpState state)
    {
        var signs = SignReader.Read(state, draft.Since);
        var (causes, checks) = knowledge.Explain(draft, kinds.Where(k => k != draft.Kind).ToHashSet(), signs);
        return new Finding
        {
            Id = FindingId.Make(draft.Kind, state.Pump.Truck.Id, state.Pump.Life.PumpSerial, draft.Since),
            Truck = state.Pump.Truck.Id,
            PumpSerial = state.Pump.Life.PumpSerial,
            Kind = draft.Kind,
            Urgency = draft.Watched is null ? knowledge.UrgencyOf(draft) : Urgency.Stop,
            Status = FindingStatus.Open,
            Since = draft.Since,
            Watched = draft.Watched,
            Evidence = draft.Evidence,
            Began = BeginningReader.Read(state, draft),
            Signs = signs,
            Causes = causes,
            Checks = checks,
        };
    }
}
