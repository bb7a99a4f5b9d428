using System.CommandLine;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Brings runs, models, findings and wear up to date.</summary>
internal static class AnalyseCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var asOf = InstantOption.Create("--as-of", "Analyse as of this instant (default: now): nothing later counts.");
        var store = StoreOption.Create();
        var command = new Command("analyse", "Bring runs, models, findings, wear and the rebuild plan up to date.\n\nExample: vanehour analyse --as-of 2026-07-01");
        command.Aliases.Add("analyze");
        command.Options.Add(asOf);
        command.Options.Add(store);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            using var data = DataFolder.OpenExisting(folder, parsed.GetValue(store));
            var job = new AnalysisJob(data, SettingsFile.Read(folder), environment.Time, environment.Error.WriteLine);
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            await job.RunAsync(parsed.GetValue(asOf) ?? Now(folder, environment.Time), progress, cancellationToken);
            FleetTable.Write(environment.Out, data);
            return ExitCode.Done;
        });
        return command;
    }

    // A drill's present is the end of its data: months later every truck would only be silent.
    private static DateTimeOffset Now(string folder, TimeProvider time) => DrillFolder.IsDrill(folder) ? DrillFolder.Open(folder).Read().AsOf : time.GetUtcNow();
}
