using System.CommandLine;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Reports;

namespace Vanehour.Host.Commands;

/// <summary>Draws the sheets of rounds.</summary>
internal static class RoundsSheetCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var trucks = new Argument<string[]>("TRUCK") { Description = "Only these trucks; without any, every truck.", Arity = ArgumentArity.ZeroOrMore };
        var yard = new Option<string?>("--yard") { Description = "Only trucks of this yard.", HelpName = "YARD" };
        var output = new Option<string?>("--out") { Description = "The folder to write to (default: reports in the data folder).", HelpName = "DIR" };
        var asOf = InstantOption.Create("--as-of", "As of this instant (default: now; in a demo's folder, where its data end).");
        var command = new Command("sheet", "Draw a page to print for each truck: its checks with boxes to tick, what is due, and the cautions.\n\nExample: vanehour rounds sheet T07 --out sheets");
        command.Arguments.Add(trucks);
        command.Options.Add(yard);
        command.Options.Add(output);
        command.Options.Add(asOf);
        command.SetAction((parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var now = parsed.GetValue(asOf) ?? RoundReading.Now(data, environment.Time);
            var rounds = RoundReading.Of(data, now, RoundsCommand.Wanted(data, parsed.GetValue(trucks)!, parsed.GetValue(yard)), cancellationToken);
            if (rounds.IsEmpty)
            {
                throw new CommandFailedException("No truck is registered; register trucks with 'vanehour import'.");
            }

            var target = Path.GetFullPath(parsed.GetValue(output) ?? Path.Combine(data.Folder, "reports"));
            var options = FolderMarks.Reports(data.Folder);
            var files = ReportWriter.WriteRounds(rounds, data.Register.Trucks(), target, options, cancellationToken);
            environment.Out.WriteLine($"{Count.Of(files.Count, "PNG file")} written to {target}.");
            return Task.FromResult(ExitCode.Done);
        });
        return command;
    }
}
