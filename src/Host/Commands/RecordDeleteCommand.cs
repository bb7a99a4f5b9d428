using System.CommandLine;
using Vanehour.Fleet.Servicing;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Deletes a service record.</summary>
internal static class RecordDeleteCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var id = new Argument<string>("ID") { Description = "The record's id, or as much of its beginning as names one alone; see 'record list'." };
        var by = new Option<string?>("--by") { Description = "Who says so.", HelpName = "NAME" };
        var why = new Option<string?>("--why") { Description = "Why it is deleted.", HelpName = "TEXT" };
        var command = new Command("delete", "Delete a service record; its history keeps what it was.\n\nExample: vanehour record delete 3fa9c01b7e --by Ann --why \"other truck\"");
        command.Arguments.Add(id);
        command.Options.Add(by);
        command.Options.Add(why);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var outcome = data.ServiceBook(environment.Time).Delete(parsed.GetValue(id)!, RecordFields.Text(parsed.GetValue(by)), RecordFields.Text(parsed.GetValue(why)));
            var record = RecordText.Require(outcome).Before!;
            var truck = data.Register.Trucks().Single(t => t.Id == record.Truck);
            environment.Out.WriteLine($"Deleted {ServiceId.Of(record)}: {RecordText.Of(record, truck)}.");
            if (LifeNews.IsOne(record.Kind))
            {
                environment.Out.WriteLine("The next analysis reads the pump's lives anew.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}
