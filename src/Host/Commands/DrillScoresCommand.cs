using System.CommandLine;
using System.Text;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>One score sheet of several folders: a class whose members each had their own.</summary>
internal static class DrillScoresCommand
{
    public static Command Create(CliEnvironment environment)
    {
        var folders = new Argument<string[]>("FOLDER") { Description = "Data folders of revealed drills.", Arity = ArgumentArity.OneOrMore };
        var listing = new ListingOptions();
        var sheet = new Option<string?>("--sheet") { Description = "Write the sheet into this CSV file instead.", HelpName = "FILE" };
        var command = new Command(
            "scores", "One score sheet of several revealed drills, best first.\n\nExample: vanehour drill scores ann ben cleo --csv\nExample: vanehour drill scores ann ben --sheet class.csv");
        command.Arguments.Add(folders);
        listing.AddTo(command);
        command.Options.Add(sheet);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var drills = parsed.GetValue(folders)!.Select(f => (Folder: Path.GetFullPath(f), Reveal: Revealed(f))).DistinctBy(d => d.Folder).ToList();
            if (drills.Select(d => (d.Reveal.Truth.Case, d.Reveal.Drill.Seed)).Distinct().Count() > 1)
            {
                await environment.Error.WriteLineAsync("These are not all the same drill; see the columns case and seed.");
            }

            IReadOnlyList<DrillScoreRow> rows = [.. drills.SelectMany(d => DrillScoreRow.Of(d.Reveal, d.Folder)).OrderByDescending(r => r.Total).ThenBy(r => r.Name, StringComparer.Ordinal)];
            if (parsed.GetValue(sheet) is { } file)
            {
                using var text = new StringWriter { NewLine = "\n" };
                Listing.WriteCsv(text, rows, DrillScoreRow.Columns);
                await WholeFile.WriteAsync(file, Encoding.UTF8.GetBytes(text.ToString()), cancellationToken);
                environment.Out.WriteLine($"{Count.Of(rows.Count, "score")} written to {Path.GetFullPath(file)}.");
                return ExitCode.Done;
            }

            Listing.Write(
                environment.Out, listing.Format(parsed), rows, DrillScoreRow.Columns,
                (JsonTypeInfo<IReadOnlyList<DrillScoreRow>>)HostJson.Default.IReadOnlyListDrillScoreRow, "Nobody answered in these folders.");
            return ExitCode.Done;
        });
        return command;
    }

    private static DrillReveal Revealed(string folder) => DrillFolder.Open(folder).Revealed()
        ?? throw new CommandFailedException($"The drill in {Path.GetFullPath(folder)} is not revealed yet; run 'vanehour drill reveal' on it first.");
}
