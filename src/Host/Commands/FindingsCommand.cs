using System.CommandLine;
using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Models.Findings;
using Vanehour.Reports.Words;

namespace Vanehour.Host.Commands;

/// <summary>Lists findings, or explains them on a page.</summary>
internal static class FindingsCommand
{
    private static readonly Column<Finding>[] ClosedColumns =
    [
        new("closed", "Closed", f => f.Closed, "yyyy-MM-dd"),
        new("closing", "Closed by", f => f.Closing),
        new("closed_by", "Who", f => f.ClosedBy, Rank: 2),
        new("cause_found", "Found", f => f.CauseFound?.ToString() ?? (f.NothingFound ? "nothing" : null)),
        new("note", "Note", f => f.Note, Rank: 3),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string?>("TRUCK") { Description = "Only findings on this truck.", Arity = ArgumentArity.ZeroOrOne };
        var explain = new Option<bool>("--explain") { Description = "Explain each finding: evidence, causes in order, checks with their cautions." };
        var all = new Option<bool>("--all") { Description = "Closed findings too, with how they were closed." };
        var scored = new Option<bool>("--scored") { Description = "How often the cause that people found was ranked first or among the first three, by kind." };
        var units = new UnitsOption();
        var listing = new ListingOptions();
        var command = new Command("findings", "List what needs a person, most urgent first.\n\nExample: vanehour findings T07 --explain");
        command.Arguments.Add(truck);
        command.Options.Add(explain);
        command.Options.Add(all);
        command.Options.Add(scored);
        units.AddTo(command);
        listing.AddTo(command);
        command.Subcommands.Add(FindingMarkCommands.Close(globals, environment));
        command.Subcommands.Add(FindingMarkCommands.Acknowledge(globals, environment));
        command.Validators.Add(result =>
        {
            if (result.GetValue(scored) && (result.GetValue(explain) || result.GetValue(all)))
            {
                result.AddError("--scored stands alone, without --explain and --all.");
            }
        });
        command.SetAction(parsed =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            using var data = DataFolder.OpenExisting(folder);
            var id = parsed.GetValue(truck);
            if (id is not null)
            {
                data.RequireTruck(id);
            }

            var format = listing.Format(parsed);
            if (parsed.GetValue(scored))
            {
                FindingScores.Write(environment.Out, format, FindingScore.Of(new FindingBook(data.Findings).All().Where(f => id is null || f.Truck == id)));
                return ExitCode.Done;
            }

            var analysis = data.RequireAnalysis();
            var withClosed = parsed.GetValue(all);
            var rows = (withClosed ? new FindingBook(data.Findings).All() : analysis.Findings).Where(f => id is null || f.Truck == id).ToList();

            // For other programs the units are always those of the JSON.
            var isTrade = units.Get(parsed, folder).IsTrade && format == ListingFormat.Table;
            if (parsed.GetValue(explain) && format == ListingFormat.Table && rows.Count > 0)
            {
                foreach (var finding in rows)
                {
                    FindingPage.Write(environment.Out, finding, isTrade);
                }

                return ExitCode.Done;
            }

            var nothing = string.Create(CultureInfo.InvariantCulture, $"No {(withClosed ? string.Empty : "open ")}finding{(id is null ? string.Empty : " on " + id)} as of {analysis.AsOf.UtcDateTime:yyyy-MM-dd HH:mm}Z.");
            Listing.Write(environment.Out, format, rows, [.. Columns(isTrade), .. withClosed ? ClosedColumns : []], (JsonTypeInfo<IReadOnlyList<Finding>>)HostJson.Default.IReadOnlyListFinding, nothing);
            return ExitCode.Done;
        });
        return command;
    }

    internal static Column<Finding>[] Columns(bool isTrade) =>
    [
        new("id", "Id", f => f.Id),
        new("truck", "Truck", f => f.Truck),
        new("pump_serial", "Pump serial", f => f.PumpSerial, Rank: 3),
        new("kind", "Kind", f => f.Kind),
        new("urgency", "Urgency", f => f.Urgency),
        new("status", "Status", f => f.Status, Rank: 2),
        new("since", "Since", f => f.Since, "yyyy-MM-dd"),
        new("evidence", "Evidence", f => string.Join("; ", f.Evidence.Select(e => EvidenceText.Of(e, isTrade)))),
        new("causes", "Likely causes", f => string.Join(", ", f.Causes.Take(3).Select(c => c.Cause)), Rank: 1),
    ];
}
