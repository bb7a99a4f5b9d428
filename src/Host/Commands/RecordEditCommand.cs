using System.CommandLine;
using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Corrects a service record.</summary>
internal static class RecordEditCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var id = new Argument<string>("ID") { Description = "The record's id, or as much of its beginning as names one alone; see 'record list'." };
        var truck = new Option<string?>("--truck") { Description = "The truck that is really meant.", HelpName = "TRUCK" };
        var kind = new Option<string?>("--kind") { Description = "What was really done.", HelpName = "KIND" };
        var why = new Option<string?>("--why") { Description = "Why it is corrected.", HelpName = "TEXT" };
        var fields = new RecordFields();
        var command = new Command(
            "edit", "Correct a service record; its history keeps what it was.\n\nExample: vanehour record edit 3fa9c01b7e --meter 4410.5 --by Ann --why \"misread\"");
        command.Arguments.Add(id);
        command.Options.Add(truck);
        command.Options.Add(kind);
        fields.AddTo(command);
        command.Options.Add(why);
        command.Validators.Add(result =>
        {
            if (!fields.HasAny(result) && result.GetResult(truck) is null && result.GetResult(kind) is null)
            {
                result.AddError("Say what to correct, as --meter or --date.");
            }
        });
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            if (parsed.GetValue(truck) is { } other)
            {
                data.RequireTruck(other);
            }

            var trucks = data.Register.Trucks().ToDictionary(t => t.Id, StringComparer.Ordinal);
            var wanted = parsed.GetValue(kind) is { } name ? RecordFields.Kind(name).Kind : (ServiceKind?)null;
            var outcome = RecordText.Require(data.ServiceBook(environment.Time).Edit(
                parsed.GetValue(id)!,
                r => fields.Over(
                    r with { Truck = parsed.GetValue(truck) ?? r.Truck, Kind = wanted ?? r.Kind }, parsed, YardTime.ZoneOf(trucks[parsed.GetValue(truck) ?? r.Truck])),
                RecordFields.Text(parsed.GetValue(fields.By)),
                RecordFields.Text(parsed.GetValue(why))));
            var (before, after) = (outcome.Before!, outcome.After!);
            if (outcome.Kind == ServiceOutcomeKind.Unchanged)
            {
                environment.Out.WriteLine($"Record {ServiceId.Of(after)} says so already; nothing changed.");
                return ExitCode.Done;
            }

            environment.Out.WriteLine($"Changed {ServiceId.Of(before)}: {FieldChange.Text(FieldChange.Between(before, after))}.");
            if (ServiceId.Of(before) != ServiceId.Of(after))
            {
                environment.Out.WriteLine($"Its id is now {ServiceId.Of(after)}: it came without one of its own, and its id follows truck, date, kind and meter.");
            }

            if (new MeterReadings(data, trucks[after.Truck]).Doubt(after) is { } doubt)
            {
                environment.Out.WriteLine(doubt);
            }

            if (LifeNews.IsOne(before.Kind) || LifeNews.IsOne(after.Kind))
            {
                environment.Out.WriteLine("The next analysis reads the pump's lives anew.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}
