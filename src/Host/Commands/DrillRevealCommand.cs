using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Reveals a drill and scores its answers.</summary>
internal static class DrillRevealCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var units = new UnitsOption();
        var anyway = new Option<bool>("--without-answers") { Description = "Reveal although nobody has answered." };
        var command = new Command(
            "reveal",
            "Show the truth, its tell-tales, what points elsewhere, and the scores (--csv: the score sheet). After it the drill takes no answers.\n\n"
            + "Example: vanehour drill reveal --data lesson1\nExample: vanehour drill reveal --csv --data lesson1");
        listing.AddTo(command);
        units.AddTo(command);
        command.Options.Add(anyway);
        command.SetAction(parsed =>
        {
            var folder = DrillFolder.Open(parsed.GetValue(globals.Data)!);
            if (folder.Read() is { Answers.Length: 0, Revealed: false } && !parsed.GetValue(anyway))
            {
                throw new CommandFailedException("Nobody has answered this drill yet, and after the reveal nobody can; answer first, or add --without-answers.");
            }

            var isTrade = units.Get(parsed, folder.Folder).IsTrade;
            var reveal = folder.Reveal(environment.Time.GetUtcNow());
            switch (listing.Format(parsed))
            {
                case ListingFormat.Json:
                    // The simulator's own lines are in a file beside it.
                    environment.Out.WriteLine(JsonSerializer.Serialize(reveal with { Truth = reveal.Truth with { TruthLines = [] } }, HostJson.Default.DrillReveal));
                    break;
                case ListingFormat.Csv:
                    Listing.Write(
                        environment.Out, ListingFormat.Csv, DrillScoreRow.Of(reveal, folder.Folder), DrillScoreRow.Columns,
                        (JsonTypeInfo<IReadOnlyList<DrillScoreRow>>)HostJson.Default.IReadOnlyListDrillScoreRow, string.Empty);
                    break;
                default:
                    DrillPage.Reveal(environment.Out, reveal, isTrade);
                    break;
            }

            return ExitCode.Done;
        });
        return command;
    }
}
