using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Health;

namespace Vanehour.Host.Commands;

/// <summary>Says whether the worker of a data folder is well: for container health checks and monitoring.</summary>
internal static class HealthCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var live = new Option<bool>("--live") { Description = "Only ask whether the worker is alive, not whether broker and store can be used." };
        var command = new Command(
            "health",
            "Say whether the worker on this data folder does its job: alive, broker connected, store writable, nothing waiting. Ends with 1 and a sentence where it does not.\n\n"
            + "Example: vanehour health --data /data");
        command.Options.Add(live);
        command.SetAction(parsed =>
        {
            var folder = Path.GetFullPath(parsed.GetValue(globals.Data)!);
            var status = WorkerStatusFile.Read(folder)
                ?? throw new CommandFailedException($"No worker has reported in {folder}; start 'vanehour serve' or 'vanehour ingest', or name the folder with --data.");
            var now = environment.Time.GetUtcNow();
            if ((parsed.GetValue(live) ? status.NotLive(now) : status.NotReady(now)) is { } reason)
            {
                throw new CommandFailedException($"Not healthy: {reason.TrimEnd('.')}.");
            }

            environment.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Healthy: process {status.ProcessId}, {status.SamplesStored} samples stored since its start, {status.Backlog} messages waiting."));
            return ExitCode.Done;
        });
        return command;
    }
}
