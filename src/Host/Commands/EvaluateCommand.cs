using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Scoring;

namespace Vanehour.Host.Commands;

/// <summary>Scores findings and forecasts against the truth of a simulated fleet.</summary>
internal static class EvaluateCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truth = new Option<string>("--truth") { Description = "The truth file that 'simulate --truth' wrote.", HelpName = "FILE", Required = true };
        var every = new Option<double>("--every") { Description = "Days between the analyses that are replayed (default 1).", HelpName = "DAYS", DefaultValueFactory = _ => 1 };
        every.Validators.Add(result =>
        {
            if (result.Tokens is [var token] && double.TryParse(token.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var given) && given is not (>= 0.25 and <= 31))
            {
                result.AddError("--every must be a number of days from 0.25 to 31.");
            }
        });
        var each = new Option<bool>("--each") { Description = "List every fault and every false finding too." };
        var picture = new Option<string?>("--out") { Description = "Draw the scores into this PNG file.", HelpName = "FILE" };
        var listing = new ListingOptions();
        var command = new Command(
            "evaluate",
            "Score findings and forecasts against a truth file: the runs in the data folder are analysed again as of every day, each time blind to what came later. "
            + "What is kept in the folder is not changed.\n\nExample: vanehour evaluate --truth truth.jsonl --out scores.png");
        command.Options.Add(truth);
        command.Options.Add(every);
        command.Options.Add(each);
        command.Options.Add(picture);
        listing.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            using var data = DataFolder.OpenExisting(folder);
            var settings = SettingsFile.Bind<AnalysisOptions>(SettingsFile.Read(folder), "Analysis");
            if (settings.Problems() is { Count: > 0 } problems)
            {
                throw new CommandFailedException("The settings section Analysis cannot be used: " + string.Join(" ", problems));
            }

            var result = await EvaluateAsync(
                data,
                parsed.GetValue(truth)!,
                settings,
                TimeSpan.FromDays(parsed.GetValue(every)),
                new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal),
                cancellationToken);
            switch (listing.Format(parsed))
            {
                case ListingFormat.Json:
                    environment.Out.WriteLine(JsonSerializer.Serialize(EvaluationJson.Of(result), HostJson.Default.EvaluationJson));
                    break;
                case ListingFormat.Csv:
                    Listing.WriteCsv(environment.Out, [.. result.Findings.Faults, result.Findings.All], EvaluationPage.FaultColumns);
                    break;
                default:
                    EvaluationPage.Write(environment.Out, result, parsed.GetValue(each));
                    break;
            }

            if (parsed.GetValue(picture) is { } file)
            {
                await File.WriteAllBytesAsync(file, EvaluationPicture.Draw(result), cancellationToken);
                await environment.Error.WriteLineAsync($"Scores drawn into {Path.GetFullPath(file)}.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<EvaluationResult> EvaluateAsync(
        DataFolder data, string file, AnalysisOptions settings, TimeSpan every, ConsoleProgress progress, CancellationToken cancellationToken)
    {
        try
        {
            var fleet = await ReplayFleet.ReadAsync(data.Register, data.Runs, data.Samples, cancellationToken);
            return await progress.StepAsync("Replaying analyses", share => Task.Run(
                () => Evaluation.Run(fleet, file, settings, every, share, cancellationToken), cancellationToken));
        }
        catch (EvaluationException e)
        {
            throw new CommandFailedException(e.Message);
        }
    }
}
