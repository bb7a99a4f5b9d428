using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Calendars;

namespace Vanehour.Host.Commands;

/// <summary>Lists the recurring checks that are due.</summary>
internal static class RoundsCommand
{
    /// <summary>The columns in CSV files.</summary>
    internal static readonly Column<RoundRow>[] CsvColumns =
    [
        new("key", "Key", r => r.Key),
        new("truck", "Truck", r => r.Truck),
        new("yard", "Yard", r => r.Yard),
        new("round", "Round", r => r.Round),
        new("check", "Check", r => r.Check),
        new("if_fitted", "If fitted", r => r.IfFitted),
        new("state", "State", r => r.State),
        new("due_at", "Due at", r => r.DueAt),
        new("due_on", "Due on", r => r.DueOn),
        new("due_by", "Due by", r => r.DueBy),
        new("due_at_h", "Due at, h", r => r.DueAtH),
        new("hours_left_h", "Left, h", r => r.HoursLeft),
        new("last_done", "Last done", r => r.LastDone),
        new("done_by", "By", r => r.DoneBy),
        new("evidence", "Evidence", r => r.Evidence),
        new("because", "Because", r => r.Because),
        new("finding", "Finding", r => r.Finding),
        new("instruction", "Instruction", r => r.Instruction),
        new("cautions", "Cautions", r => string.Join(' ', r.Cautions)),
    ];

    // The fleet: a line a round. One truck: a line a check.
    private static readonly Column<RoundGroup>[] FleetColumns =
    [
        new("truck", "Truck", g => g.First.Truck),
        new("round", "Round", g => g.First.Check.Round),
        new("state", "State", g => g.First.State),
        new("due", "Due", g => IsoDay.Of(g.First.DueDay)),
        new("checks", "Checks", g => string.Join(", ", g.Checks)),
        new("because", "Because", g => g.First.Because, Rank: 1),
    ];

    private static readonly Column<RoundItem>[] TruckColumns =
    [
        new("round", "Round", i => i.Check.Round),
        new("check", "Check", i => i.Check.Key),
        new("state", "State", i => i.State),
        new("due", "Due", i => IsoDay.Of(i.DueDay)),
        new("hours_left", "Left, h", i => i.HoursLeft, "0", Rank: 3),
        new("last_done", "Last done", i => IsoDay.Of(i.DoneDay)),
        new("done_by", "By", i => i.LastDone?.By ?? i.LastDone?.Evidence.ToString(), Rank: 2),
        new("because", "Because", i => i.Because),
        new("text", "What", i => i.Check.Text + (i.IfFitted ? " (if fitted)" : string.Empty), Rank: 1),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Option<string?>("--truck") { Description = "Only this truck, a line for each check.", HelpName = "TRUCK" };
        var yard = new Option<string?>("--yard") { Description = "Only trucks of this yard.", HelpName = "YARD" };
        var all = new Option<bool>("--all") { Description = "Every check: also those that are done, rest with their truck, or are not kept." };
        var asOf = InstantOption.Create("--as-of", "As of this instant (default: now; in a demo's folder, where its data end).");
        var calendar = new Option<string?>("--calendar") { Description = "Write what is due, and when what is kept will be, as an iCalendar file; importing it again moves events and makes no second ones.", HelpName = "FILE" };
        var listing = new ListingOptions();
        var command = new Command("rounds", "List the recurring checks that are due, by days or PTO hours, and those that a finding asks for now.\n\nExample: vanehour rounds --yard North");
        command.Options.Add(truck);
        command.Options.Add(yard);
        command.Options.Add(all);
        command.Options.Add(asOf);
        command.Options.Add(calendar);
        listing.AddTo(command);
        command.Subcommands.Add(RoundsDoneCommand.Create(globals, environment));
        command.Subcommands.Add(RoundsSheetCommand.Create(globals, environment));
        command.SetAction(async (parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var id = parsed.GetValue(truck);
            var now = parsed.GetValue(asOf) ?? RoundReading.Now(data, environment.Time);
            var trucks = RoundReading.Of(data, now, Wanted(data, id is null ? [] : [id], parsed.GetValue(yard)), cancellationToken);
            var whole = TruckRounds.InOrder(trucks);
            var items = whole.Where(i => parsed.GetValue(all) || i.State <= RoundState.DueSoon).ToList();
            var format = listing.Format(parsed);
            var nothing = string.Create(CultureInfo.InvariantCulture, $"No check is due on {Count.Of(trucks.Length, "truck")} as of {now.UtcDateTime:yyyy-MM-dd HH:mm}Z.");
            if (format != ListingFormat.Table)
            {
                var rows = Rows(trucks, items);
                Listing.Write(environment.Out, format, rows, CsvColumns, (JsonTypeInfo<IReadOnlyList<RoundRow>>)HostJson.Default.IReadOnlyListRoundRow, nothing);
            }
            else
            {
                if (id is null)
                {
                    Listing.WriteTable(environment.Out, RoundGroup.Of(items), FleetColumns, nothing);
                }
                else
                {
                    Listing.WriteTable(environment.Out, items, TruckColumns, nothing);
                }

                SayNotKept(environment.Out, whole);
            }

            if (parsed.GetValue(calendar) is { } file)
            {
                await WholeFile.WriteAsync(file, Encoding.UTF8.GetBytes(RoundCalendar.Of(trucks, environment.Time.GetUtcNow())), cancellationToken);
                await environment.Error.WriteLineAsync($"{Count.Of(RoundCalendar.Dated(trucks).Count(), "check")} written to {Path.GetFullPath(file)}.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>The rows of some checks of these trucks.</summary>
    internal static IReadOnlyList<RoundRow> Rows(IEnumerable<TruckRounds> trucks, IEnumerable<RoundItem> items)
    {
        var yards = trucks.ToDictionary(t => t.Truck.Id, t => t.Truck.Yard, StringComparer.Ordinal);
        return [.. items.Select(i => RoundRow.Of(i, yards[i.Truck]))];
    }

    /// <summary>Which trucks are meant.</summary>
    /// <exception cref="CommandFailedException">A truck or yard is not there.</exception>
    internal static Func<Truck, bool> Wanted(DataFolder data, IReadOnlyCollection<string> ids, string? yard)
    {
        foreach (var id in ids)
        {
            data.RequireTruck(id);
        }

        TruckFilter.Require(yard, "is in a yard", data.Register.Trucks().Select(t => t.Yard));
        return t => (ids.Count == 0 || ids.Contains(t.Id)) && (yard is null || t.Yard == yard);
    }

    // Said once, not a line for each check that nobody marks.
    private static void SayNotKept(TextWriter output, IEnumerable<RoundItem> items)
    {
        var groups = items.Where(i => i.State == RoundState.NotKept && RoundTable.WholeRounds.Contains(i.Check.Round)).GroupBy(i => i.Check.Round).OrderBy(g => g.Key).ToList();
        if (groups.Count > 0)
        {
            var rounds = string.Join(", ", groups.Select(g => $"{g.Key.ToString().ToLowerInvariant()} on {Count.Of(g.Select(i => i.Truck).Distinct().Count(), "truck")}"));
            output.WriteLine($"Never marked, and so not asked for: {rounds}. Mark a round with 'vanehour rounds done {groups[0].First().Truck} {groups[0].Key.ToString().ToLowerInvariant()} --by NAME', and it is asked for from then on.");
        }
    }
}
