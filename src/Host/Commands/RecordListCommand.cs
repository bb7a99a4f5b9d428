using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Lists service records with their ids.</summary>
internal static class RecordListCommand
{
    private static readonly Column<RecordRow>[] Columns =
    [
        new("id", "Id", r => r.Id),
        new("date", "Date", r => r.Date),
        new("truck", "Truck", r => r.Truck),
        new("meter_h", "Meter, h", r => r.MeterH),
        new("kind", "Kind", r => r.Kind),
        new("value", "Value", r => r.Value),
        new("unit", "Unit", r => r.Unit),
        new("pump_serial", "Pump serial", r => r.PumpSerial, Rank: 2),
        new("pump_model", "Pump model", r => r.PumpModel, Rank: 3),
        new("note", "Note", r => r.Note, Rank: 1),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string?>("TRUCK") { Description = "Only records of this truck.", Arity = ArgumentArity.ZeroOrOne };
        var kind = new Option<string?>("--kind") { Description = "Only records of this kind.", HelpName = "KIND" };
        var from = InstantOption.Create("--from", "Only records of this instant or later.");
        var to = InstantOption.Create("--to", "Only records before this instant.");
        var listing = new ListingOptions();
        var command = new Command("list", "List service records with their ids, in order of date.\n\nExample: vanehour record list T07 --kind rebuild");
        command.Arguments.Add(truck);
        command.Options.Add(kind);
        command.Options.Add(from);
        command.Options.Add(to);
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var id = parsed.GetValue(truck);
            if (id is not null)
            {
                data.RequireTruck(id);
            }

            var wanted = parsed.GetValue(kind) is { } name ? RecordFields.Kind(name) : null;
            var (first, end) = (parsed.GetValue(from), parsed.GetValue(to));
            var rows = data.Register.ServiceRecords(id)
                .Where(r => (wanted is null || r.Kind == wanted.Kind) && !(r.At < first) && !(r.At >= end))
                .Select(r => new RecordRow(r))
                .ToList();
            Listing.Write(
                environment.Out,
                listing.Format(parsed),
                rows,
                Columns,
                (JsonTypeInfo<IReadOnlyList<RecordRow>>)HostJson.Default.IReadOnlyListRecordRow,
                $"No service record{(id is null ? string.Empty : " of " + id)} is kept that fits; add one with 'vanehour record' or 'vanehour import'.");
            return ExitCode.Done;
        });
        return command;
    }
}
