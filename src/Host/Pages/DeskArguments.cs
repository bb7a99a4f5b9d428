using Vanehour.Board.Desk;
using Vanehour.Fleet;
using Vanehour.Models.Planning;

namespace Vanehour.Host.Pages;

/// <summary>
/// What people ask of the pages, as the arguments of the command that does it. Free text only ever stands behind an option and its equals sign, where it can
/// be taken for nothing else; what stands alone is checked to be what it should be.
/// </summary>
internal static class DeskArguments
{
    /// <summary>The arguments of a listing; null where it needs a truck and none is named.</summary>
    public static IReadOnlyList<string>? Of(DeskQuery query)
    {
        if (query.Truck is { } truck && !TruckId.IsValid(truck))
        {
            return null;
        }

        var yard = Options(("--yard", query.Yard));
        IEnumerable<string> id = query.Truck is null ? [] : [query.Truck];
        return query.List switch
        {
            DeskList.Trucks => ["trucks", .. yard],
            DeskList.Runs => query.Truck is null ? null : ["runs", query.Truck],
            DeskList.Findings => ["findings", .. id],
            DeskList.Wear => ["wear", .. yard],
            DeskList.Life => ["life", .. yard],
            DeskList.Compare => ["compare", .. yard],
            DeskList.Models => ["models"],
            DeskList.Plan => ["plan", .. yard],
            DeskList.Marks => ["plan", "marks"],
            DeskList.Rounds => ["rounds", .. yard, .. Options(("--truck", query.Truck))],
            DeskList.Rejects => ["rejects"],
            DeskList.Records => ["record", "list", .. id],
            DeskList.History => ["record", "history", .. id],
            _ => throw new ArgumentOutOfRangeException(nameof(query)),
        };
    }

    /// <summary>The arguments of a deed.</summary>
    /// <param name="deed">The deed.</param>
    /// <param name="by">Who asks for it.</param>
    /// <param name="problem">Why there are none, in a sentence.</param>
    public static IReadOnlyList<string>? Of(DeskDeed deed, string by, out string? problem)
    {
        problem = deed switch
        {
            DeskDeed.Record r => NoTruck(r.Truck) ?? (ServiceKindInfo.Find(r.Kind) is null ? "Choose what was done." : null),
            DeskDeed.DeleteRecord d => NoId(d.Id),
            DeskDeed.Acknowledge a => NoId(a.Id),
            DeskDeed.Close c => NoId(c.Id),
            DeskDeed.Pin p => NoTruck(p.Truck) ?? NoWeek(p.Week),
            DeskDeed.Unpin u => NoTruck(u.Truck),
            DeskDeed.Block b => NoWeek(b.From) ?? (b.To is { } to ? NoWeek(to) : null),
            DeskDeed.Unblock u => long.TryParse(u.Id, out var id) && id > 0 ? null : "That is no block.",
            DeskDeed.Round r => NoTruck(r.Truck) ?? (r.What.Length > 0 && r.What.All(c => char.IsAsciiLetterOrDigit(c) || c == '_') ? null : "Choose the round."),
            _ => throw new ArgumentOutOfRangeException(nameof(deed)),
        };
        if (problem is not null)
        {
            return null;
        }

        var who = Options(("--by", by));
        return deed switch
        {
            DeskDeed.Record r =>
            [
                "record", r.Truck, r.Kind, .. who,
                .. Options(("--meter", r.Meter), ("--date", r.Date), ("--value", r.Value), ("--unit", r.Unit), ("--pump-serial", r.PumpSerial), ("--pump-model", r.PumpModel), ("--note", r.Note)),
            ],
            DeskDeed.DeleteRecord d => ["record", "delete", d.Id, .. who, .. Options(("--why", d.Why))],
            DeskDeed.Acknowledge a => ["findings", "acknowledge", a.Id, .. who, .. Options(("--note", a.Note))],
            DeskDeed.Close c => ["findings", "close", c.Id, .. who, .. Options(("--cause", c.Cause), ("--note", c.Note))],
            DeskDeed.Pin p => ["plan", "pin", p.Truck, p.Week, .. who, .. Options(("--note", p.Note))],
            DeskDeed.Unpin u => ["plan", "unpin", u.Truck],
            DeskDeed.Block b => ["plan", "block", b.From, .. b.To is { } to ? [to] : Array.Empty<string>(), .. who, .. Options(("--yard", b.Yard), ("--truck", b.Truck), ("--note", b.Note))],
            DeskDeed.Unblock u => ["plan", "unblock", u.Id],
            DeskDeed.Round r => ["rounds", "done", r.Truck, r.What, .. who, .. Options(("--note", r.Note))],
            _ => throw new ArgumentOutOfRangeException(nameof(deed)),
        };
    }

    private static IEnumerable<string> Options(params (string Name, string? Value)[] options) =>
        options.Where(o => !string.IsNullOrEmpty(o.Value)).Select(o => $"{o.Name}={o.Value}");

    private static string? NoTruck(string truck) => TruckId.IsValid(truck) && truck[0] != '-' ? null : "Choose the truck.";

    private static string? NoWeek(string week) => PlanWeek.TryParse(week, out _) ? null : "Choose the week.";

    private static string? NoId(string id) => id.Length is > 0 and <= 200 && id[0] is not ('-' or '@') && !id.Any(char.IsControl) ? null : "That is no id.";
}
