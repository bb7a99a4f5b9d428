using System.CommandLine;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Puts a backup back.</summary>
internal static class RestoreCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var from = new Option<string>("--from") { Description = "The backup: a .zip file or a folder.", Required = true, HelpName = "FILE_OR_DIR" };
        var force = new Option<bool>("--force") { Description = "Restore into a folder that holds something; its databases and settings are kept aside." };
        var command = new Command(
            "restore",
            "Put a backup into the data folder. Checksums and databases are checked before anything is replaced; stop the worker first.\n\n"
            + "Example: vanehour restore --from backups/2026-11-25.zip --data restored");
        command.Options.Add(from);
        command.Options.Add(force);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            var (manifest, aside) = await new Restore(folder, environment.Time, progress).RunAsync(parsed.GetValue(from)!, parsed.GetValue(force), cancellationToken);

            // A backup of an older version is brought up to date here, while a person looks on.
            using var data = DataFolder.OpenExisting(folder);
            environment.Out.WriteLine($"Backup of {BackupCommand.Moment(manifest)} restored into {data.Folder}: {BackupCommand.Contents(manifest)}.");
            if (aside is not null)
            {
                environment.Out.WriteLine($"What was there before is kept in {aside}.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}
