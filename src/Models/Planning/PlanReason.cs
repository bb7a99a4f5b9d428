using System.Globalization;

namespace Vanehour.Models.Planning;

/// <summary>The sentences of a plan.</summary>
internal static class PlanReason
{
    /// <summary>Why a job is in its week.</summary>
    public static string Of(PumpChoices item, int week, int best, PlanCalendar calendar, bool isWaiting)
    {
        if (item.Pin is { } pin)
        {
            return $"Pinned{(pin.By is { } by ? $" by {by}" : string.Empty)}{(pin.Note is { } note ? $": {note}" : string.Empty)}.";
        }

        var costs = item.Costs.Weeks;
        if (week == best)
        {
            var urged = item.Costs.IsUrged ? " A finding that says stop brings it forward." : string.Empty;
            return week + 1 < costs.Length
                ? $"Cheapest week: {Percent(item.Risk.LimitBy[week])} to be at the limit by then; a week later costs {Amount(costs[week + 1] - costs[week])} more.{urged}"
                : $"Cheapest week: {Percent(item.Risk.LimitBy[week])} to be at the limit by then.{urged}";
        }

        var wanted = calendar.First.Plus(best);
        var more = Amount(Math.Max(0, costs[week] - costs[best]));
        if (calendar.WhyNot(item.Risk, best) is { } why)
        {
            return $"{wanted} would cost {more} less, but {why}.";
        }

        return isWaiting
            ? $"{wanted} would cost {more} less, but its slot, kit or spare goes to a pump that loses more by waiting."
            : $"Left in its week: {wanted} would cost {more} less, which a move is not worth.";
    }

    /// <summary>Where the slots cannot hold the risk.</summary>
    public static IEnumerable<string> Held(IEnumerable<(PumpChoices Item, int Week)> waiting, PlanCalendar calendar, PlanOptions options) => waiting
        .Where(w => w.Item.Risk.LimitBy[w.Week < 0 ? calendar.Weeks : w.Week] is var chance && chance >= options.HighChance
            && chance > w.Item.Risk.LimitBy[Math.Max(0, w.Item.Cheapest(calendar))])
        .GroupBy(w => w.Item.Risk.Yard, StringComparer.Ordinal)
        .OrderBy(g => g.Key, StringComparer.Ordinal)
        .Select(g => $"{g.Key} cannot hold the risk: {string.Join(", ", g.Select(w => w.Item.Risk.Truck).Order(StringComparer.Ordinal))} {(g.Count() == 1 ? "waits" : "wait")} until the limit is likelier reached than not. A slot, a kit or a spare more, or another yard, would help.");

    private static string Percent(double chance) => chance < 0.005 ? "under 1 %" : string.Create(CultureInfo.InvariantCulture, $"{100 * chance:F0} %");

    private static string Amount(double cost) => cost.ToString("F0", CultureInfo.InvariantCulture);
}
