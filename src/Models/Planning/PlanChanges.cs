using System.Collections.Immutable;
using System.Globalization;

namespace Vanehour.Models.Planning;

/// <summary>Says what is elsewhere in one plan than in another, and why.</summary>
public static class PlanChanges
{
    // From so much on a change in the chance of the limit is a reason; of our own.
    private const double ChanceMatters = 0.05;

    /// <summary>The moves, in order of where jobs are now, then of truck.</summary>
    /// <param name="before">The plan before.</param>
    /// <param name="now">The plan now.</param>
    /// <param name="marks">Pins and blocks as they are now.</param>
    /// <param name="fittedAt">When the pump on each truck was fitted.</param>
    public static ImmutableArray<PlanMove> Between(RebuildPlan before, RebuildPlan now, IReadOnlyList<PlanMark> marks, IReadOnlyDictionary<string, DateTimeOffset> fittedAt)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(marks);
        ArgumentNullException.ThrowIfNull(fittedAt);
        var trucks = before.Jobs.Concat(now.Jobs).Select(j => j.Truck).Distinct(StringComparer.Ordinal);
        return
        [
            .. trucks.Select(t => (Truck: t, Was: before.JobOf(t), Is: now.JobOf(t)))
                .Where(t => t.Was?.Week != t.Is?.Week || IsOther(t.Was, t.Is))
                .Select(t => new PlanMove(t.Truck, t.Was?.Week, t.Is?.Week, Why(t.Truck, t.Was, t.Is, before, now, marks, fittedAt)) { WasPump = t.Was?.PumpSerial, WasFittedOn = t.Was?.FittedOn, WasYard = t.Was?.Yard })
                .OrderBy(m => m.To ?? m.From).ThenBy(m => m.Truck, StringComparer.Ordinal),
        ];
    }

    // The same week for another pump, or for the next life of the same.
    private static bool IsOther(PlannedJob? was, PlannedJob? now) => was is not null && now is not null && (was.PumpSerial != now.PumpSerial || (was.FittedOn is not null && was.FittedOn != now.FittedOn));

    private static string Why(
        string truck, PlannedJob? was, PlannedJob? now, RebuildPlan before, RebuildPlan plan, IReadOnlyList<PlanMark> marks, IReadOnlyDictionary<string, DateTimeOffset> fittedAt)
    {
        if (was is not null && fittedAt.TryGetValue(truck, out var fitted) && fitted > before.AsOf)
        {
            return "Rebuilt or replaced since.";
        }

        if (now is { Pinned: true })
        {
            return now.Reason;
        }

        if (was is not null && was.Week < plan.FirstWeek)
        {
            return $"{was.Week} is over and no rebuild is recorded.";
        }

        if (was is { Pinned: true })
        {
            return "Its pin was taken off or set aside.";
        }

        if (was is not null && marks.FirstOrDefault(m => m.Kind == PlanMarkKind.Block && m.Covers(was.Week) && (m.Truck is null || m.Truck == truck) && (m.Yard is null || m.Yard == was.Yard)) is { } block)
        {
            return $"{was.Week} is blocked{(block.Note is { } note ? $" ({note})" : string.Empty)}.";
        }

        var (limitWas, limitIs) = (was?.LimitAt ?? before.Later.FirstOrDefault(l => l.Truck == truck)?.LimitAt, now?.LimitAt ?? plan.Later.FirstOrDefault(l => l.Truck == truck)?.LimitAt);
        var chanceMoved = was is null || now is null || was.Week > now.Week
            ? limitIs is not null && (limitWas is null || limitIs < limitWas.Value.AddDays(-3))
            : limitWas is not null && (limitIs is null || limitIs > limitWas.Value.AddDays(3));
        if (chanceMoved || (was is null != now is null && limitWas != limitIs && limitWas is not null && limitIs is not null && Math.Abs((limitIs.Value - limitWas.Value).TotalDays) > 3))
        {
            return $"The limit is now expected about {Date(limitIs)}, before it was {Date(limitWas)}.";
        }

        if (was is null)
        {
            return before.FirstWeek.Plus(before.HorizonWeeks) < plan.FirstWeek.Plus(plan.HorizonWeeks) && now!.Week >= before.FirstWeek.Plus(before.HorizonWeeks - 1)
                ? "Its week has come into the weeks that are planned."
                : "A rebuild within the weeks that are planned has become the cheaper choice.";
        }

        if (plan.Stop.Any(s => s.Truck == truck) && before.Stop.All(s => s.Truck != truck))
        {
            return "A finding says stop.";
        }

        var others = plan.Jobs.Where(j => j.Week == was.Week && j.Yard == was.Yard && j.Truck != truck && before.JobOf(j.Truck)?.Week != was.Week).Select(j => j.Truck).ToList();
        if (others.Count > 0)
        {
            return $"Its place went to {string.Join(", ", others)}, which would lose more by waiting.";
        }

        return now is not null && Math.Abs(now.ChanceBefore - was.ChanceBefore) >= ChanceMatters
            ? string.Create(CultureInfo.InvariantCulture, $"The chance of the limit before its week would be {100 * now.ChanceBefore:F0} %; in the plan before it was {100 * was.ChanceBefore:F0} %.")
            : "Another week has become cheaper by more than a move costs.";
    }

    private static string Date(DateTimeOffset? at) => at is { } date ? date.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "beyond the forecast";
}
