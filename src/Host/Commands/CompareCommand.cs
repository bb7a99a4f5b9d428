using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Reports;
using Vanehour.Reports.Comparing;
using Vanehour.Reports.Words;

namespace Vanehour.Host.Commands;

/// <summary>Compares pump models by life, oil use, wear and cost.</summary>
internal static class CompareCommand
{
    private static readonly Column<ComparedModel>[] Columns =
    [
        .. LifeCommand.Columns
            .Where(c => !c.Name.StartsWith("replacement", StringComparison.Ordinal) && !c.Name.StartsWith("to_", StringComparison.Ordinal))
            .Select(c => new Column<ComparedModel>(c.Name, c.Heading, m => c.Value(m.Life), c.Format, c.Rank)),
        new("oil_pumps", "Oil from", m => m.Oil.Pumps, Rank: 4),
        new("oil_l_per_h", "Oil, L/h", m => m.Oil.Value?.Mid, "0.000"),
        new("oil_low_l_per_h", "Oil, low", m => m.Oil.Value?.Low, "0.000", Rank: 2),
        new("oil_high_l_per_h", "Oil, high", m => m.Oil.Value?.High, "0.000", Rank: 2),
        new("wear_pumps", "Wear from", m => m.Wear?.Pumps, Rank: 4),
        new("wear_per_1000h", "Wear per 1000 h", m => m.Wear?.Value?.Mid, "0.000"),
        new("wear_low_per_1000h", "Wear, low", m => m.Wear?.Value?.Low, "0.000", Rank: 2),
        new("wear_high_per_1000h", "Wear, high", m => m.Wear?.Value?.High, "0.000", Rank: 2),
        new("cost_per_h", "Cost per h", m => m.Cost.PerHour?.Mid, "0.######"),
        new("cost_low_per_h", "Cost, low", m => m.Cost.PerHour?.Low, "0.######", Rank: 2),
        new("cost_high_per_h", "Cost, high", m => m.Cost.PerHour?.High, "0.######", Rank: 2),
        new("cost_best_per_h", "Cost at best", m => m.Cost.BestPerHour, "0.######", Rank: 3),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var filter = new TruckFilter();
        var units = new UnitsOption();
        var picture = new Option<string?>("--out") { Description = "Draw the comparison into this PNG or SVG file, by its ending.", HelpName = "FILE" };
        var command = new Command(
            "compare",
            "Compare pump models by how long they last, oil per PTO hour, wear and cost: each pair differs, shows no evidence of a difference, or has too few lives or pumps to say.\n\nExample: vanehour compare --out compare.png");
        listing.AddTo(command);
        filter.AddTo(command);
        command.Options.Add(picture);
        units.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var reading = LifeReading.Of(parsed, data, filter, environment, cancellationToken);
            var settings = SettingsFile.Bind<AnalysisOptions>(SettingsFile.Read(data.Folder), "Analysis");
            if (settings.Problems() is { Count: > 0 } problems)
            {
                throw new CommandFailedException("The settings section Analysis cannot be used: " + string.Join(" ", problems));
            }

            var trucks = filter.Trucks(parsed, data);
            var wear = data.LatestAnalysis()?.Wear.Where(w => trucks.Contains(w.Truck)).ToList();
            var comparison = new ModelComparer(reading.Options, settings.Expectation).Compare(reading.Table, reading.Pumps, wear);
            Write(environment.Out, listing.Format(parsed), comparison, reading.Options);
            if (parsed.GetValue(picture) is { } file)
            {
                var options = FolderMarks.Reports(data.Folder) with { Units = units.Get(parsed, data.Folder).ForReports };
                await DrawAsync(new ComparisonReportData(comparison, reading.AsOf, reading.Options), Path.GetFullPath(file), options, cancellationToken);
                await environment.Error.WriteLineAsync($"Comparison drawn into {Path.GetFullPath(file)}.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static async Task DrawAsync(ComparisonReportData comparison, string file, ReportOptions options, CancellationToken cancellationToken)
    {
        var caption = new SvgCaption { IdPrefix = "model-chart", Title = "Pump models compared", Description = ChartAlternative.Of(comparison) };
        var picture = file.EndsWith(".svg", StringComparison.OrdinalIgnoreCase) ? Encoding.UTF8.GetBytes(ComparisonReport.RenderSvg(comparison, options, caption)) : ComparisonReport.Render(comparison, options);
        try
        {
            await File.WriteAllBytesAsync(file, picture, cancellationToken);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CommandFailedException($"The picture cannot be written to {file}; choose another place with --out.", e);
        }
    }

    private static void Write(TextWriter output, ListingFormat format, ModelComparison comparison, LifeOptions options)
    {
        var models = ComparedModel.Of(comparison);
        switch (format)
        {
            case ListingFormat.Json:
                output.WriteLine(JsonSerializer.Serialize(ComparisonJson.Of(comparison, options), HostJson.Default.ComparisonJson));
                break;
            case ListingFormat.Csv:
                Listing.WriteCsv(output, models, Columns);
                break;
            default:
                Listing.WriteTable(output, models, Columns, "No life to compare.");
                Explain(output, comparison, models, options);
                break;
        }
    }

    private static void Explain(TextWriter output, ModelComparison comparison, IReadOnlyList<ComparedModel> models, LifeOptions options)
    {
        foreach (var model in models)
        {
            foreach (var remark in model.Remarks)
            {
                output.WriteLine($"{model.Life.PumpModel}: {remark}");
            }
        }

        if (comparison.Lives.LogRank is { P: { } p } test)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"All models alike in life: log-rank chi-square {test.ChiSquare:F1} with {test.DegreesOfFreedom} degrees of freedom, p {p:G2}."));
        }

        foreach (var sentence in comparison.Lives.Pairs.Select(p => p.Sentence).Concat(comparison.Oil.Pairs.Select(p => p.Sentence)).Concat(comparison.Wear?.Pairs.Select(p => p.Sentence) ?? []))
        {
            output.WriteLine(sentence);
        }

        foreach (var remark in comparison.Oil.Remarks.Concat(comparison.Wear?.Remarks ?? (models.Count > 0 ? ["Wear: nothing is analysed yet; run 'vanehour analyse' first."] : [])))
        {
            output.WriteLine(remark);
        }

        if (models.Any(m => m.Cost.PerHour is not null))
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Cost per h: planned rebuilds and failures so far over PTO hours, {(options.CostsAreMoney ? $"a planned rebuild at {options.PlannedRebuildCost:0.##} (setting Life:PlannedRebuildCost)" : "in planned rebuilds")}, a failure at {options.FailureCostRatio:0.##} of them (setting Life:FailureCostRatio); at best: if every pump were rebuilt at the age that costs least. Limits: {options.Level:0.# %}. Lives are not brought to one load."));
        }
    }
}
