using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Reports.Calendars;

/// <summary>
/// The rounds as an iCalendar file (RFC 5545): an event of a day for each check that is due or will be, on its day in the truck's time zone. A check of a truck keeps its UID for
/// good and a later file has a higher SEQUENCE, so that importing again moves events and makes no second ones.
/// </summary>
public static class RoundCalendar
{
    /// <summary>The checks that get an event: those that are kept, or asked for by a finding, and have a day.</summary>
    /// <param name="trucks">The rounds of the trucks.</param>
    public static IEnumerable<RoundItem> Dated(IEnumerable<TruckRounds> trucks)
    {
        ArgumentNullException.ThrowIfNull(trucks);
        return trucks.SelectMany(t => t.Items).Where(i => i.State != RoundState.NotKept && i.DueDay is not null);
    }

    /// <summary>Writes the file.</summary>
    /// <param name="trucks">The rounds of the trucks.</param>
    /// <param name="madeAt">When it is made.</param>
    public static string Of(IReadOnlyCollection<TruckRounds> trucks, DateTimeOffset madeAt)
    {
        ArgumentNullException.ThrowIfNull(trucks);
        var calendar = CalendarText.New("Rounds");
        var yards = trucks.ToDictionary(t => t.Truck.Id, t => t.Truck.Yard, StringComparer.Ordinal);
        foreach (var item in Dated(trucks))
        {
            calendar.Events.Add(CalendarText.Event(UidOf(item), madeAt, item.DueDay!.Value, 1, $"{item.Check.Text}, {item.Truck}", Words(item), yards[item.Truck], isOff: false));
        }

        return CalendarText.Write(calendar);
    }

    /// <summary>The identity of a check on a truck, the same in every file.</summary>
    public static string UidOf(RoundItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return $"round-{CalendarText.Plain(item.Key)}@vanehour";
    }

    private static string Words(RoundItem item)
    {
        string?[] parts =
        [
            $"{item.Check.Round} round{(item.IfFitted ? ", if fitted" : string.Empty)}{(item.State is RoundState.Overdue ? ", overdue" : string.Empty)}.",
            item.Because is { } why ? $"{char.ToUpperInvariant(why[0])}{why[1..]}." : null,
            item.Check.Instruction,
            .. item.Check.CautionTexts(Knowledge.Default),
            $"Done? vanehour rounds done {item.Truck} {item.Check.Key} --by NAME",
        ];
        return string.Join('\n', parts.Where(p => !string.IsNullOrWhiteSpace(p)));
    }
}
