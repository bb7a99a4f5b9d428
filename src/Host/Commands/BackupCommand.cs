using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Moving;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Makes a safe copy of the data folder.</summary>
internal static class BackupCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var to = new Option<string>("--to") { Description = "The backup to make: a file that ends in .zip, or else a folder. It must not be there yet.", Required = true, HelpName = "FILE_OR_DIR" };
        var command = new Command(
            "backup",
            "Copy the databases (both as of one instant) and the settings, while a worker goes on writing. Files that settings point to, as password files, and reports are not in it.\n\n"
            + "Example: vanehour backup --to backups/2026-11-25.zip");
        command.Options.Add(to);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var target = parsed.GetValue(to)!;
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            var manifest = await new Backup(parsed.GetValue(globals.Data)!, environment.Time, progress).WriteAsync(target, cancellationToken);
            environment.Out.WriteLine($"Backup of {Moment(manifest)} written to {Path.GetFullPath(target)}: {Contents(manifest)}.");
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>The instant a backup is of.</summary>
    public static string Moment(BackupManifest manifest) => manifest.MadeAt.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>What a backup holds, in words.</summary>
    public static string Contents(BackupManifest manifest)
    {
        var rows = manifest.Files.SelectMany(f => (f.Rows ?? []).Select(r => (Key: $"{f.Name}/{r.Key}", r.Value))).ToDictionary(r => r.Key, r => r.Value);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Of("fleet.db/truck")} trucks, {Of("fleet.db/service_record")} service records, {Of("fleet.db/run")} runs, {Of("samples.db/sample")} samples, {Of("samples.db/reject")} rejects, {manifest.Files.Sum(f => f.Bytes) / 1e6:0.0} MB in {manifest.Files.Count} files");

        long Of(string key) => rows.GetValueOrDefault(key);
    }
}
