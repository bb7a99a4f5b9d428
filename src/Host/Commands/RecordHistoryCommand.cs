using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Lists who changed which service record, when, and what.</summary>
internal static class RecordHistoryCommand
{
    private static readonly Column<RecordChangeRow>[] Columns =
    [
        new("at", "When", r => r.At),
        new("by", "Who", r => r.By),
        new("action", "Did", r => r.Action.ToString()),
        new("id", "Id", r => r.Id),
        new("truck", "Truck", r => r.Truck),
        new("kind", "Kind", r => r.Kind),
        new("changes", "What", r => FieldChange.Text(r.Changes)),
        new("why", "Why", r => r.Why, Rank: 1),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string?>("TRUCK") { Description = "Only changes of records of this truck.", Arity = ArgumentArity.ZeroOrOne };
        var listing = new ListingOptions();
        var command = new Command("history", "List who added, changed or deleted which service record, when, and what changed.\n\nExample: vanehour record history T07");
        command.Arguments.Add(truck);
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var id = parsed.GetValue(truck);
            if (id is not null)
            {
                data.RequireTruck(id);
            }

            Listing.Write(
                environment.Out,
                listing.Format(parsed),
                [.. data.ServiceBook(environment.Time).History(id).Select(c => new RecordChangeRow(c))],
                Columns,
                (JsonTypeInfo<IReadOnlyList<RecordChangeRow>>)HostJson.Default.IReadOnlyListRecordChangeRow,
                "No change of a service record is kept; records from before the history began have none.");
            return ExitCode.Done;
        });
        return command;
    }
}
