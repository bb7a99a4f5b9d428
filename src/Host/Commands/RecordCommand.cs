using System.CommandLine;
using System.CommandLine.Parsing;
using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Keeps service records: record TRUCK KIND, record edit, delete, list, history.</summary>
internal static class RecordCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        // Optional for the parser's sake: the subcommands stand in their place.
        var truck = new Argument<string?>("TRUCK") { Description = "The truck's id.", Arity = ArgumentArity.ZeroOrOne };
        var kind = new Argument<string?>("KIND") { Description = $"What was done: {string.Join(", ", ServiceKindInfo.All.Select(k => k.Name))}.", Arity = ArgumentArity.ZeroOrOne };
        var fields = new RecordFields();
        var command = new Command(
            "record",
            "Record what was done to a pump or truck. A rebuild or failure ends the life running and a new one starts.\n\n"
            + "Example: vanehour record T07 rebuild --meter 4400.5 --date 2026-03-09 --by Ann\nExample: vanehour record T07 vane_width --value 57.2 --unit mm");
        command.Arguments.Add(truck);
        command.Arguments.Add(kind);
        fields.AddTo(command);
        command.Subcommands.Add(RecordEditCommand.Create(globals, environment));
        command.Subcommands.Add(RecordDeleteCommand.Create(globals, environment));
        command.Subcommands.Add(RecordListCommand.Create(globals, environment));
        command.Subcommands.Add(RecordHistoryCommand.Create(globals, environment));
        command.Validators.Add(result =>
        {
            if (!result.Children.Any(c => c is CommandResult) && (Missing(result, truck) || Missing(result, kind)))
            {
                result.AddError("Name the truck and what was done, as 'vanehour record T07 flush'; or say edit, delete, list or history.");
            }
        });
        foreach (var sub in command.Subcommands)
        {
            sub.Validators.Add(result =>
            {
                // What stands before the subcommand would be passed over in silence.
                if (result.Parent is CommandResult parent && (!Missing(parent, truck) || !Missing(parent, kind) || fields.HasAny(parent) || parent.GetResult(fields.By) is not null))
                {
                    result.AddError($"Nothing can stand between 'record' and '{sub.Name}'; put it behind.");
                }
            });
        }

        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            data.RequireTruck(parsed.GetValue(truck)!);
            return Add(data, environment, data.Register.Trucks().Single(t => t.Id == parsed.GetValue(truck)), RecordFields.Kind(parsed.GetValue(kind)!), fields, parsed);
        });
        return command;
    }

    private static int Add(DataFolder data, CliEnvironment environment, Truck truck, ServiceKindInfo kind, RecordFields fields, ParseResult parsed)
    {
        var now = environment.Time.GetUtcNow();
        var empty = new ServiceRecord { Truck = truck.Id, Kind = kind.Kind, MeterH = 0, At = now.AddTicks(-(now.Ticks % TimeSpan.TicksPerSecond)) };
        var record = fields.Over(empty, parsed, YardTime.ZoneOf(truck));
        var readings = new MeterReadings(data, truck);
        var said = string.Empty;
        if (!fields.HasMeter(parsed))
        {
            var (meterH, run) = readings.Last(record.At)
                ?? throw new CommandFailedException($"No run of {truck.Id} in the day before {YardTime.Text(truck, record.At)} says what the meter read; give --meter.");
            record = record with { MeterH = meterH };
            said = $"The meter is that of the run that ended on {YardTime.Text(truck, run)}: {RecordText.Hours(meterH)}.";
        }

        var outcome = data.ServiceBook(environment.Time).Add(record, RecordFields.Text(parsed.GetValue(fields.By)));
        var kept = RecordText.Require(outcome).After!;
        if (outcome.Kind == ServiceOutcomeKind.Unchanged)
        {
            environment.Out.WriteLine($"Already recorded as {ServiceId.Of(kept)}; nothing changed.");
            return ExitCode.Done;
        }

        environment.Out.WriteLine($"Recorded {ServiceId.Of(kept)}: {RecordText.Of(kept, truck)}.");
        string[] more = [said, readings.Doubt(kept) ?? string.Empty, LifeNews.Of(kept, truck, data.Register.ServiceRecords(truck.Id)) ?? string.Empty];
        foreach (var line in more.Where(l => l.Length > 0))
        {
            environment.Out.WriteLine(line);
        }

        return ExitCode.Done;
    }

    private static bool Missing(CommandResult result, Argument<string?> argument) => result.GetResult(argument) is not { Tokens.Count: > 0 };
}
