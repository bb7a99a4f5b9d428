using System.CommandLine;
using System.Globalization;
using System.Text;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Writes samples, runs or results to a CSV file.</summary>
internal static class ExportCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var names = Enum.GetNames<ExportTable>().Select(n => n.ToLowerInvariant()).ToArray();
        var table = new Argument<string>("TABLE") { Description = $"What to write: {string.Join(", ", names)}." };
        table.AcceptOnlyFromAmong(names);
        var trucks = new Argument<string[]>("TRUCK") { Description = "Only of these trucks.", Arity = ArgumentArity.ZeroOrMore };
        var from = InstantOption.Create("--from", "Only samples, runs that start, or findings since this instant or later.");
        var to = InstantOption.Create("--to", "Only samples, runs that start, or findings since before this instant.");
        var outFile = new Option<string?>("--out") { Description = "The file to write (default: standard output). One that is there is replaced when the new one is complete.", HelpName = "FILE" };
        var command = new Command(
            "export",
            "Write samples, runs, wear, findings, trucks, the plan or every check of the rounds as CSV. Samples come in the columns that 'vanehour import' reads.\n\n"
            + "Example: vanehour export samples T07 T09 --from 2026-06-01 --out samples.csv");
        command.Arguments.Add(table);
        command.Arguments.Add(trucks);
        command.Options.Add(from);
        command.Options.Add(to);
        command.Options.Add(outFile);
        command.Validators.Add(result =>
        {
            var isDated = result.GetResult(from) is not null || result.GetResult(to) is not null;
            if (isDated && result.GetResult(table) is { Tokens: [{ Value: "wear" or "trucks" or "plan" or "rounds" }] })
            {
                result.AddError("--from and --to go with samples, runs and findings.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var what = Enum.Parse<ExportTable>(parsed.GetValue(table)!, ignoreCase: true);
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var export = new Export(data, new ExportRequest(what, parsed.GetValue(trucks) ?? [], parsed.GetValue(from), parsed.GetValue(to)), environment.Time);
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            if (parsed.GetValue(outFile) is not { } path)
            {
                await progress.StepAsync("Exporting", share => export.WriteAsync(environment.Out, share, cancellationToken));
                return ExitCode.Done;
            }

            var rows = await progress.StepAsync("Exporting", share => Task.Run(() => ToFileAsync(export, path, share, cancellationToken), cancellationToken));
            environment.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{rows} rows written to {Path.GetFullPath(path)}."));
            return ExitCode.Done;
        });
        return command;
    }

    private static Task<long> ToFileAsync(Export export, string path, IProgress<double> share, CancellationToken cancellationToken) => WholeFile.WriteAsync(path, async part =>
    {
        await using var writer = new StreamWriter(part, append: false, new UTF8Encoding(false), bufferSize: 128 * 1024) { NewLine = "\n" };
        return await export.WriteAsync(writer, share, cancellationToken);
    });
}
