using Vanehour.Board.Desk;
using Vanehour.Fleet;
using Vanehour.Models.Planning;

namespace Vanehour.Host.Pages;

/// <summary>
/// What people ask of the pages, as the arguments of the command that does it. Free text only ever stands behind an option and its equals sign, or behind two
/// dashes, where it can be taken for nothing else.
/// </summary>
internal static class DeskArguments
{
    /// <summary>The arguments of a listing.</summary>
    /// <param name="query">The listing.</param>
    /// <param name="problem">Why there are none, in a sentence.</param>
    public static IReadOnlyList<string>? Of(DeskQuery query, out string? problem)
    {
        problem = null;
        if (query.Truck is { } truck && !TruckId.IsValid(truck))
        {
            problem = "That is no truck's id.";
            return null;
        }

        var yard = Options(("--yard", query.Yard));

        // Behind the two dashes nothing is taken for an option or a subcommand.
        IEnumerable<string> id = query.Truck is null ? [] : ["--", query.Truck];
        var (takesTruck, takesYard) = query.List switch
        {
            DeskList.Runs or DeskList.Findings or DeskList.Records or DeskList.History => (true, false),
            DeskList.Plan or DeskList.Rounds => (true, true),
            DeskList.Trucks or DeskList.Wear or DeskList.Life or DeskList.Compare => (false, true),
            _ => (false, false),
        };
        if ((query.Truck is not null && !takesTruck) || (query.Yard is not null && !takesYard) || (query is { List: DeskList.Plan, Truck: not null, Yard: not null }))
        {
            problem = $"This listing cannot be asked for by {(query.Truck is not null && !takesTruck ? "truck" : "yard")}.";
            return null;
        }

        if (query is { List: DeskList.Runs, Truck: null })
        {
            problem = "A truck must be named for that, as ?truck=T01.";
            return null;
        }

        return query.List switch
        {
            DeskList.Trucks => ["trucks", .. yard],
            DeskList.Runs => ["runs", .. id],
            DeskList.Findings => ["findings", .. id],
            DeskList.Wear => ["wear", .. yard],
            DeskList.Life => ["life", .. yard],
            DeskList.Compare => ["compare", .. yard],
            DeskList.Models => ["models"],
            DeskList.Plan => ["plan", .. yard, .. Options(("--explain", query.Truck))],
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
            DeskDeed.Close c => NoId(c.Id) ?? (c.Cause.Length == 0 ? "Choose what was found." : null),
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
                "record", .. who,
                .. Options(("--meter", r.Meter), ("--date", r.Date), ("--value", r.Value), ("--unit", r.Unit), ("--pump-serial", r.PumpSerial), ("--pump-model", r.PumpModel), ("--note", r.Note)),
                "--", r.Truck, r.Kind,
            ],
            DeskDeed.DeleteRecord d => ["record", "delete", .. who, .. Options(("--why", d.Why)), "--", d.Id],
            DeskDeed.Acknowledge a => ["findings", "acknowledge", .. who, .. Options(("--note", a.Note)), "--", a.Id],
            DeskDeed.Close c => ["findings", "close", .. who, .. Options(("--cause", c.Cause), ("--note", c.Note)), "--", c.Id],
            DeskDeed.Pin p => ["plan", "pin", .. who, .. Options(("--note", p.Note)), "--", p.Truck, p.Week],
            DeskDeed.Unpin u => ["plan", "unpin", "--", u.Truck],
            DeskDeed.Block b => ["plan", "block", .. who, .. Options(("--yard", b.Yard), ("--truck", b.Truck), ("--note", b.Note)), "--", b.From, .. b.To is { } to ? [to] : Array.Empty<string>()],
            DeskDeed.Unblock u => ["plan", "unblock", "--", u.Id],
            DeskDeed.Round r => ["rounds", "done", .. who, .. Options(("--meter", r.Meter), ("--note", r.Note)), "--", r.Truck, r.What],
            _ => throw new ArgumentOutOfRangeException(nameof(deed)),
        };
    }

    /// <summary>The arguments with one option more: before the two dashes, behind which nothing is one.</summary>
    public static IReadOnlyList<string> With(IReadOnlyList<string> arguments, string option) =>
        [.. arguments.TakeWhile(a => a != "--"), option, .. arguments.SkipWhile(a => a != "--")];

    private static IEnumerable<string> Options(params (string Name, string? Value)[] options) =>
        options.Where(o => !string.IsNullOrEmpty(o.Value)).Select(o => $"{o.Name}={o.Value}");

    private static string? NoTruck(string truck) => TruckId.IsValid(truck) ? null : "Choose the truck.";

    private static string? NoWeek(string week) => PlanWeek.TryParse(week, out _) ? null : "Choose the week.";

    private static string? NoId(string id) => id.Length is > 0 and <= 200 && !id.Any(char.IsControl) ? null : "That is no id.";
}
