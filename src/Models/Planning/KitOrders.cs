using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>Reads from a plan which kits must be ordered, and by when.</summary>
internal static class KitOrders
{
    /// <summary>The orders, soonest first. Every job takes a kit in its week, a swap too: the pump that came off is rebuilt.</summary>
    public static ImmutableArray<KitOrder> Of(ImmutableArray<PlannedJob> jobs, PlanWeek first, PlanOptions options) =>
    [
        .. jobs.GroupBy(j => j.PumpModel, StringComparer.Ordinal)
            .SelectMany(model =>
            {
                var parts = options.PartsOf(model.Key);
                return model.OrderBy(j => j.Week).Skip(parts.InStock)
                    .GroupBy(j => j.Week)
                    .Select(week => new KitOrder(model.Key, week.Count(), Later(week.Key.Plus(-parts.LeadWeeks), first), week.Key));
            })
            .OrderBy(o => o.OrderBy).ThenBy(o => o.PumpModel, StringComparer.Ordinal).ThenBy(o => o.For),
    ];

    private static PlanWeek Later(PlanWeek a, PlanWeek b) => a > b ? a : b;
}
