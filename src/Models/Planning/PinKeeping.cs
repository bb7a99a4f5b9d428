using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>Keeps pins where they can be, the oldest first; none is kept at another's cost.</summary>
internal static class PinKeeping
{
    /// <summary>The pins that are kept, by truck; why the others are not goes to <paramref name="remarks"/>.</summary>
    public static Dictionary<string, PlanMark> Keep(PlanInput input, ImmutableArray<PumpRisk> risks, PlanCalendar calendar, List<string> remarks)
    {
        var kept = new Dictionary<string, PlanMark>(StringComparer.Ordinal);
        var used = new Dictionary<int, int>();
        var latest = input.Marks.Where(m => m.Kind == PlanMarkKind.Pin).GroupBy(m => m.Truck!, StringComparer.Ordinal).Select(g => g.Last());
        foreach (var pin in latest.OrderBy(p => p.At).ThenBy(p => p.Id))
        {
            if (input.FittedAt.TryGetValue(pin.Truck!, out var fitted) && fitted > pin.At)
            {
                continue;
            }

            var week = pin.From.WeeksAfter(calendar.First);
            if (week >= calendar.Weeks)
            {
                remarks.Add($"{pin.Truck} is pinned to {pin.From}, beyond the weeks that are planned.");
                continue;
            }

            if (risks.FirstOrDefault(r => r.Truck == pin.Truck) is not { } risk)
            {
                remarks.Add($"{pin.Truck} is pinned to {pin.From}, but is not planned.");
                continue;
            }

            var why = week < 0 ? $"{pin.From} is over and no rebuild is recorded" : calendar.WhyNot(risk, week);
            var room = why is null ? calendar.Ways(risk, week).Where(w => w.Uses.All(u => used.GetValueOrDefault(u) < calendar.Capacities[u])).Select(w => w.Uses).FirstOrDefault() : null;
            if (room is null)
            {
                remarks.Add($"The pin of {pin.Truck} to {pin.From} is set aside: {why ?? "slots, kits or trucks that may not be down together leave no room beside older pins"}.");
                continue;
            }

            foreach (var resource in room)
            {
                used[resource] = used.GetValueOrDefault(resource) + 1;
            }

            kept[pin.Truck!] = pin;
        }

        return kept;
    }
}
