using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Draws the PNG reports.</summary>
internal static class ReportCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var trucks = new Argument<string[]>("TRUCK") { Description = "Only these trucks; without any, every truck and the fleet overview.", Arity = ArgumentArity.ZeroOrMore };
        var output = new Option<string?>("--out") { Description = "The folder to write to (default: reports in the data folder).", HelpName = "DIR" };
        var scale = new Option<double?>("--scale")
        {
            Description = "Size of the pictures, 1 to 4: 2 gives 1600 x 2200 pixels, for print (default 2).",
            HelpName = "N",
        };
        scale.Validators.Add(result =>
        {
            // What is no number at all is refused by the parser; asking it for the value would throw.
            if (result.Tokens is [var token]
                && double.TryParse(token.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var given)
                && given is not (>= 1 and <= 4))
            {
                result.AddError("--scale must be a number from 1 to 4.");
            }
        });
        var units = new UnitsOption();
        var command = new Command("report", "Draw trend reports as PNG: one per truck, and the fleet overview.\n\nExample: vanehour report T07 --out pictures");
        command.Arguments.Add(trucks);
        command.Options.Add(output);
        command.Options.Add(scale);
        units.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            using var data = DataFolder.OpenExisting(folder);
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            var target = Path.GetFullPath(parsed.GetValue(output) ?? Path.Combine(data.Folder, "reports"));
            var files = await new ReportJob(data, units.Get(parsed, folder), parsed.GetValue(scale)).RunAsync(parsed.GetValue(trucks)!, target, progress, cancellationToken);
            environment.Out.WriteLine($"{Count.Of(files.Count, "PNG file")} written to {target}.");
            return ExitCode.Done;
        });
        return command;
    }
}
