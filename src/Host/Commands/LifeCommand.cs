using System.CommandLine;
using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Commands;

/// <summary>Lists how long pumps last, by pump model, from the service records; with --each every life.</summary>
internal static class LifeCommand
{
    private const int NamesShown = 8;

    /// <summary>The columns of a pump model's lives.</summary>
    internal static readonly Column<ModelLife>[] Columns =
    [
        new("pump_model", "Pump model", m => m.PumpModel),
        new("lives", "Lives", m => m.Lives),
        new("failures", "Failed", m => m.Failures),
        new("planned_rebuilds", "Rebuilt", m => m.PlannedRebuilds, Rank: 2),
        new("removed", "Removed", m => m.Removed, Rank: 4),
        new("running", "Running", m => m.Running, Rank: 2),
        new("late_entries", "Late entries", m => m.LateEntries, Rank: 5),
        new("left_out", "Left out", m => m.LeftOut, Rank: 3),
        new("median_life_h", "Median life, h", m => m.MedianLifeH.Mid, "0"),
        new("median_life_low_h", "Median, low", m => m.MedianLifeH.Low, "0", Rank: 1),
        new("median_life_high_h", "Median, high", m => m.MedianLifeH.High, "0", Rank: 1),
        new("b10_h", "B10, h", m => m.B10H?.Mid, "0"),
        new("b10_low_h", "B10, low", m => m.B10H?.Low, "0", Rank: 1),
        new("b10_high_h", "B10, high", m => m.B10H?.High, "0", Rank: 1),
        new("weibull_shape", "Shape", m => m.Weibull?.Shape, "0.00", Rank: 3),
        new("weibull_shape_se", "Shape, se", m => m.Weibull?.ShapeSe, "0.00", Rank: 6),
        new("weibull_scale_h", "Scale, h", m => m.Weibull?.ScaleH, "0", Rank: 3),
        new("weibull_scale_se_h", "Scale, se", m => m.Weibull?.ScaleSe, "0", Rank: 6),
        new("to_wear_limit_h", "To wear limit, h", m => m.ToWearLimit?.P50, "0", Rank: 1),
        new("to_wear_limit_low_h", "To limit, low", m => m.ToWearLimit?.P10, "0", Rank: 4),
        new("to_wear_limit_high_h", "To limit, high", m => m.ToWearLimit?.P90, "0", Rank: 4),
        new("replacement_age_h", "Rebuild by age, h", m => m.Replacement?.AgeH, "0"),
        new("replacement_saving", "Saves", m => m.Replacement?.Saving, "0 %"),
    ];

    private static readonly Column<PumpLife>[] LifeColumns =
    [
        new("truck", "Truck", l => l.Truck),
        new("pump_serial", "Pump serial", l => l.PumpSerial),
        new("pump_model", "Pump model", l => l.PumpModel),
        new("fitted_at", "Fitted", l => l.FittedAt, "yyyy-MM-dd"),
        new("until", "Until", l => l.Until, "yyyy-MM-dd"),
        new("entry_h", "Records from, h", l => l.EntryH, "0"),
        new("exit_h", "PTO hours, h", l => l.ExitH, "0"),
        new("ending", "Ending", l => l.Ending),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var filter = new TruckFilter();
        var each = new Option<bool>("--each") { Description = "List every life instead." };
        var command = new Command(
            "life",
            "List how long the pumps of each model last, from the service records: median life, B10, Weibull distribution, the age at which a planned rebuild costs least.\n\nExample: vanehour life");
        listing.AddTo(command);
        filter.AddTo(command);
        command.Options.Add(each);
        command.SetAction((parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var (_, table, _, options) = LifeReading.Of(parsed, data, filter, environment, cancellationToken);
            var format = listing.Format(parsed);
            if (parsed.GetValue(each))
            {
                Listing.Write(environment.Out, format, table.Lives, LifeColumns, (JsonTypeInfo<IReadOnlyList<PumpLife>>)HostJson.Default.IReadOnlyListPumpLife, "No life to show.");
            }
            else
            {
                var wear = data.LatestAnalysis()?.Wear.ToList() ?? [];
                IReadOnlyList<ModelLife> models = [.. new LifeStudy(options).Of(table).Select(m => m with { ToWearLimit = WearLife.Of(wear, m.PumpModel) })];
                Listing.Write(environment.Out, format, models, Columns, (JsonTypeInfo<IReadOnlyList<ModelLife>>)HostJson.Default.IReadOnlyListModelLife, "No life to show.");
                if (format == ListingFormat.Table)
                {
                    Explain(environment.Out, models, options);
                }
            }

            if (format == ListingFormat.Table)
            {
                foreach (var reason in table.Problems.GroupBy(p => p.Why, StringComparer.Ordinal))
                {
                    environment.Out.WriteLine(LeftOut(reason.Key, [.. reason]));
                }
            }

            return Task.FromResult(ExitCode.Done);
        });
        return command;
    }

    private static string LeftOut(string why, IReadOnlyList<LifeProblem> problems) => string.Create(
        CultureInfo.InvariantCulture,
        $"Left out, {why}: {string.Join("; ", problems.Take(NamesShown).Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Truck}{(p.PumpSerial is { } serial ? $" pump {serial}" : "")} {p.At:yyyy-MM-dd}")))}{(problems.Count > NamesShown ? $" and {problems.Count - NamesShown} more" : "")}.");

    private static void Explain(TextWriter output, IReadOnlyList<ModelLife> models, LifeOptions options)
    {
        foreach (var model in models)
        {
            foreach (var remark in model.Remarks)
            {
                output.WriteLine($"{model.PumpModel}: {remark}");
            }
        }

        if (models.Any(m => m.ToWearLimit is not null))
        {
            output.WriteLine("To wear limit: from fitting, by the forecasts of the pumps that run now, median and 10 to 90 % between pumps; where pumps are rebuilt by their measured wear it says more than the records.");
        }

        if (models.Any(m => m.Weibull is not null))
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Low and high: {options.Level:0.# %} limits. Only a failure ends a life here; rebuilt, removed and running pumps are censored. Rebuild by age: where a failure costs {options.FailureCostRatio:0.##} times a planned rebuild (setting Life:FailureCostRatio), against running to failure, by age alone; what a pump's own wear says comes first."));
        }
    }
}
