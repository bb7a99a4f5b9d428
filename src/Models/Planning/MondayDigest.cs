using System.Collections.Immutable;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Planning;

/// <summary>What a planner reads on a Monday.</summary>
public sealed record MondayDigest
{
    /// <summary>The analysis it stands on.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>The week that it is for.</summary>
    public required PlanWeek Week { get; init; }

    /// <summary>The plan that changes are told against; null where there is none a week old.</summary>
    public DateTimeOffset? Since { get; init; }

    /// <summary>What comes before any plan.</summary>
    public required ImmutableArray<StopFirst> Stop { get; init; }

    /// <summary>Jobs of the week.</summary>
    public required ImmutableArray<PlannedJob> ThisWeek { get; init; }

    /// <summary>Jobs of the week after.</summary>
    public required ImmutableArray<PlannedJob> NextWeek { get; init; }

    /// <summary>What has moved since.</summary>
    public required ImmutableArray<PlanMove> Moves { get; init; }

    /// <summary>Kits that must be ordered this week.</summary>
    public required ImmutableArray<KitOrder> OrderNow { get; init; }

    /// <summary>Open findings that nobody has acknowledged, but those of <see cref="Stop"/> and <see cref="Silent"/>; most urgent first.</summary>
    public required ImmutableArray<WaitingFinding> Waiting { get; init; }

    /// <summary>Trucks that have not been heard, with the last time.</summary>
    public required ImmutableArray<SilentTruck> Silent { get; init; }

    /// <summary>What one more slot would save, and what else a reader should know of the plan.</summary>
    public required ImmutableArray<string> Remarks { get; init; }

    public required bool CostsAreExamples { get; init; }

    /// <summary>Writes the digest.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="weekAgo">A plan some week old; null where there is none.</param>
    /// <param name="input">What the plan was made from.</param>
    /// <param name="lastHeard">When each truck was heard last, by truck.</param>
    public static MondayDigest Of(RebuildPlan plan, RebuildPlan? weekAgo, PlanInput input, IReadOnlyDictionary<string, DateTimeOffset> lastHeard)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(lastHeard);
        var open = input.Findings.Where(f => f.Status != FindingStatus.Closed && f.Truck is not null).ToList();
        var silent = open.Where(f => f.Kind == FindingKind.FeedSilent).Select(f => f.Truck!).Distinct(StringComparer.Ordinal).ToList();
        return new MondayDigest
        {
            AsOf = plan.AsOf,
            Week = plan.FirstWeek,
            Since = weekAgo?.AsOf,
            Stop = plan.Stop,
            ThisWeek = [.. plan.Jobs.Where(j => j.Week == plan.FirstWeek)],
            NextWeek = [.. plan.Jobs.Where(j => j.Week == plan.FirstWeek.Plus(1))],
            Moves = weekAgo is null ? [] : PlanChanges.Between(weekAgo, plan, input.Marks, input.FittedAt),
            OrderNow = [.. plan.Orders.Where(o => o.OrderBy <= plan.FirstWeek)],
            Waiting =
            [
                .. open.Where(f => f.Status == FindingStatus.Open && f.Urgency != Urgency.Stop && f.Kind != FindingKind.FeedSilent)
                    .OrderBy(f => f.Urgency).ThenBy(f => f.Since).ThenBy(f => f.Truck, StringComparer.Ordinal)
                    .Select(f => new WaitingFinding(f.Id, f.Truck!, f.Kind, f.Urgency, f.Since)),
            ],
            Silent = [.. silent.Order(StringComparer.Ordinal).Select(t => new SilentTruck(t, lastHeard.TryGetValue(t, out var at) ? at : null))],
            Remarks = plan.Remarks,
            CostsAreExamples = plan.CostsAreExamples,
        };
    }
}
