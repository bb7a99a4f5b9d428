using System.CommandLine;
using System.Text.Json;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Says again what a drill asks.</summary>
internal static class DrillShowCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var json = new Option<bool>("--json") { Description = "Write JSON." };
        var command = new Command("show", "Say again what the driver complained of, and who has answered.\n\nExample: vanehour drill show --data lesson1");
        command.Options.Add(json);
        command.SetAction(parsed =>
        {
            var folder = DrillFolder.Open(parsed.GetValue(globals.Data)!);
            var drill = folder.Read();
            if (parsed.GetValue(json))
            {
                environment.Out.WriteLine(JsonSerializer.Serialize(drill, HostJson.Default.DrillInfo));
                return ExitCode.Done;
            }

            DrillPage.Task(environment.Out, drill, folder.Folder);
            DrillPage.Answers(environment.Out, drill);
            return ExitCode.Done;
        });
        return command;
    }
}
