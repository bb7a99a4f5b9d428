using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Lists the cases, without what is wrong in them.</summary>
internal static class DrillListCommand
{
    private static readonly IReadOnlyList<Column<DrillCaseRow>> Columns =
    [
        new("number", "Case", r => r.Number),
        new("difficulty", "Difficulty", r => r.Difficulty),
        new("title", "Title", r => r.Title),
        new("names_truck", "Truck named", r => r.NamesTruck),
    ];

    public static Command Create(CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var command = new Command("list", "List the cases by difficulty; titles are symptoms, and several cases share one.\n\nExample: vanehour drill list");
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            IReadOnlyList<DrillCaseRow> rows =
            [
                .. DrillCases.Default.Cases.Select((c, i) => new DrillCaseRow(i + 1, c.Difficulty, c.Title, c.NamesTruck)).OrderBy(r => r.Difficulty).ThenBy(r => r.Number),
            ];
            Listing.Write(environment.Out, listing.Format(parsed), rows, Columns, (JsonTypeInfo<IReadOnlyList<DrillCaseRow>>)HostJson.Default.IReadOnlyListDrillCaseRow, string.Empty);
            return ExitCode.Done;
        });
        return command;
    }
}
