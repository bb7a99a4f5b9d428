using System.CommandLine;
using System.CommandLine.Help;
using Microsoft.Extensions.Options;
using Vanehour.Board.People;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Commands;
using Vanehour.Host.Pages;
using Vanehour.Ingest.Feed;
using Vanehour.Scoring.Drills;
using Vanehour.Simulator;
using Vanehour.Store;
using Vanehour.Store.Influx;

namespace Vanehour.Host;

/// <summary>The command line: finds the command, runs it, and turns what went wrong into one sentence and an exit code.</summary>
public static class Cli
{
    /// <summary>Runs one command line.</summary>
    public static Task<int> RunAsync(string[] args, CliEnvironment environment) =>
        args is [DeskOutput.Switch, .. var rest] ? DeskOutput.RunAsync(rest, environment) : RunAsync(args, environment, isInside: false);

    /// <summary>Runs one command line.</summary>
    /// <param name="args">The arguments.</param>
    /// <param name="environment">What the command talks to.</param>
    /// <param name="isInside">Whether a part of this program asks: then no argument stands for a file of arguments, and the process's own signals are left alone.</param>
    internal static async Task<int> RunAsync(string[] args, CliEnvironment environment, bool isInside)
    {
        ArgumentNullException.ThrowIfNull(environment);
        var (root, globals) = Root(environment);
        var parsed = root.Parse(args, isInside ? new ParserConfiguration { ResponseFileTokenReplacer = null } : null);
        if (parsed.Errors.Count > 0)
        {
            foreach (var sentence in UsageSentences.Of(parsed, args))
            {
                await environment.Error.WriteLineAsync(sentence);
            }

            await environment.Error.WriteLineAsync($"See 'vanehour {Path(parsed)}--help'.");
            return ExitCode.WrongUsage;
        }

        try
        {
            // Beside what a listing writes, never in it: whoever reads on must know that these trucks are invented.
            if (!isInside && parsed.Action is not HelpAction && DrillFolder.IsDrill(parsed.GetValue(globals.Data)!))
            {
                await environment.Error.WriteLineAsync("TRAINING: this is a drill with an invented fleet.");
            }

            return await parsed.InvokeAsync(new InvocationConfiguration
            {
                Output = environment.Out,
                Error = environment.Error,
                EnableDefaultExceptionHandler = false,
                ProcessTerminationTimeout = isInside ? null : TimeSpan.FromSeconds(40),
            });
        }
        catch (OperationCanceledException)
        {
            await environment.Error.WriteLineAsync("Stopped before it was done.");
            return ExitCode.Failed;
        }
        catch (Exception e) when (Sentence(e) is not null)
        {
            await environment.Error.WriteLineAsync(Sentence(e));
            return ExitCode.Failed;
        }
    }

    private static (RootCommand Root, GlobalOptions Globals) Root(CliEnvironment environment)
    {
        var root = new RootCommand(
            "Vanehour reads pump telemetry of a vacuum truck fleet and says which vane pump is drifting, why, and when its vanes reach the limit.\n\n"
            + "Example: vanehour demo --once");
        var globals = new GlobalOptions();
        root.Options.Add(globals.Data);
        root.Subcommands.Add(DemoCommand.Create(globals, environment));
        root.Subcommands.Add(ServeCommand.Create(globals, environment));
        root.Subcommands.Add(IngestCommand.Create(globals, environment));
        root.Subcommands.Add(ImportCommand.Create(globals, environment));
        root.Subcommands.Add(RecordCommand.Create(globals, environment));
        root.Subcommands.Add(AnalyseCommand.Create(globals, environment));
        root.Subcommands.Add(TrucksCommand.Create(globals, environment));
        root.Subcommands.Add(RunsCommand.Create(globals, environment));
        root.Subcommands.Add(FindingsCommand.Create(globals, environment));
        root.Subcommands.Add(ModelsCommand.Create(globals, environment));
        root.Subcommands.Add(WearCommand.Create(globals, environment));
        root.Subcommands.Add(LifeCommand.Create(globals, environment));
        root.Subcommands.Add(CompareCommand.Create(globals, environment));
        root.Subcommands.Add(PlanCommand.Create(globals, environment));
        root.Subcommands.Add(RoundsCommand.Create(globals, environment));
        root.Subcommands.Add(RejectsCommand.Create(globals, environment));
        root.Subcommands.Add(ReportCommand.Create(globals, environment));
        root.Subcommands.Add(SimulateCommand.Create(globals, environment));
        root.Subcommands.Add(EvaluateCommand.Create(globals, environment));
        root.Subcommands.Add(DrillCommand.Create(globals, environment));
        root.Subcommands.Add(CheckStoreCommand.Create(globals, environment));
        root.Subcommands.Add(ExportCommand.Create(globals, environment));
        root.Subcommands.Add(CopyStoreCommand.Create(globals, environment));
        root.Subcommands.Add(BackupCommand.Create(globals, environment));
        root.Subcommands.Add(RestoreCommand.Create(globals, environment));
        root.Subcommands.Add(HealthCommand.Create(globals, environment));
        root.Subcommands.Add(BoardCommand.Create(globals, environment));
        root.Subcommands.Add(UserCommand.Create(globals, environment));
        ShortHelp.Apply(root);
        return (root, globals);
    }

    /// <summary>The sentence for an error that a person can do something about; null for a defect of ours, which should show its trace.</summary>
    private static string? Sentence(Exception error) => error switch
    {
        CommandFailedException or DatabaseException or StoreUnavailableException or InfluxException or BrokerException or PublishFailedException or PeopleException or DrillRefusedException => error.Message,
        OptionsValidationException e => "The settings cannot be used: " + string.Join(" ", e.Failures),
        UnauthorizedAccessException or IOException => $"A file cannot be used: {error.Message}",
        _ => null,
    };

    private static string Path(ParseResult parsed)
    {
        var names = new List<string>();
        for (var result = parsed.CommandResult; result?.Command is not null and not RootCommand; result = result.Parent as System.CommandLine.Parsing.CommandResult)
        {
            names.Insert(0, result.Command.Name);
        }

        return names.Count == 0 ? string.Empty : string.Join(' ', names) + " ";
    }
}
