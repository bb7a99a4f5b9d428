using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.Extensions.Configuration;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.Planning;
using Vanehour.Models.PumpLives;
using Vanehour.Reports.Planning;
using Vanehour.Scoring.Policies;
using Vanehour.Simulator;

namespace Vanehour.Host.Commands;

/// <summary>What maintenance policies cost: by the fleet's own lives, or gone through on a simulated fleet.</summary>
internal static class PolicyComparison
{
    private static readonly Column<HistoryCost>[] OwnColumns =
    [
        new("pump_model", "Pump model", c => c.PumpModel),
        new("policy", "Policy", c => c.Policy),
        new("age_h", "Rebuild at, h", c => c.AgeH, "0"),
        new("planned_per_year", "Rebuilds a year", c => c.PlannedPerYear, "0.00"),
        new("failures_per_year", "Failures a year", c => c.FailuresPerYear, "0.00"),
        new("cost_per_year", "Cost a year", c => c.CostPerYear, "0"),
        new("truck_years", "Truck-years", c => c.TruckYears, "0.0", Rank: 1),
    ];

    private static readonly Column<PolicyCost>[] SimulatedColumns =
    [
        new("policy", "Policy", c => c.Policy),
        new("planned_per_year", "Rebuilds a year", c => c.PlannedPerYear, "0.00"),
        new("failures_per_year", "Failures a year", c => c.FailuresPerYear, "0.00"),
        new("past_limit_per_year", "Past limit a year", c => c.PastLimitPerYear, "0.00", Rank: 1),
        new("cost_per_year", "Cost a year", c => c.CostPerYear, "0"),
        new("cost_low_per_year", "Low", c => c.Low, "0", Rank: 1),
        new("cost_high_per_year", "High", c => c.High, "0", Rank: 1),
        new("setting", "Setting", c => c.Setting, Rank: 2),
    ];

    /// <summary>By the fleet's own lives.</summary>
    public static void Own(TextWriter output, ListingFormat format, DataFolder data, TimeProvider time, CancellationToken cancellationToken)
    {
        var settings = SettingsFile.Read(data.Folder);
        var options = PlanJob.OptionsOf(settings);
        var life = SettingsFile.Bind<LifeOptions>(settings, "Life");
        var table = LifeTable.Build(FleetData.Read(data.Register, data.Runs, data.Results.LatestAsOf() ?? time.GetUtcNow(), cancellationToken));
        var costs = HistoryCosts.Of(table, options.Costs, life.FewestFailures);
        Listing.Write(output, format, costs, OwnColumns, (JsonTypeInfo<IReadOnlyList<HistoryCost>>)HostJson.Default.IReadOnlyListHistoryCost, "No life to go by yet.");
        if (format != ListingFormat.Table)
        {
            return;
        }

        var without = costs.GroupBy(c => c.PumpModel, StringComparer.Ordinal).Where(g => g.Count() == 1).Select(g => g.Key).ToList();
        if (without.Count > 0)
        {
            output.WriteLine($"Too few failures for a distribution of lives: {string.Join(", ", without)}.");
        }

        output.WriteLine("Per truck and year, by the lives in the service records. What the plan would have cost cannot be read off records; 'plan --compare-policies --simulated' goes through an invented fleet.");
        output.WriteLine(PlanWords.Costs(options.CostsAreExamples));
    }

    /// <summary>On a simulated fleet.</summary>
    public static async Task SimulatedAsync(
        TextWriter output, ListingFormat format, IConfiguration settings, SimulationOptions simulated, ConsoleProgress progress, CancellationToken cancellationToken)
    {
        var analysis = SettingsFile.Bind<AnalysisOptions>(settings, "Analysis");
        if (analysis.Problems() is { Count: > 0 } problems)
        {
            throw new CommandFailedException("The settings section Analysis cannot be used: " + string.Join(" ", problems));
        }

        // The invented fleet has yards and pump models of its own: what the settings say of a yard or a model by name is not about it.
        var plan = new PlanOptions { Costs = PlanJob.OptionsOf(settings).Costs, UsualParts = new PartsSupply { InStock = 100_000, LeadWeeks = 0 } };
        var result = await progress.StepAsync("Going through policies", share => Task.Run(
            () => PolicyStudy.Run(SimulatedFleet.Create(simulated), new PolicyStudyOptions { Analysis = analysis, Plan = plan }, share, cancellationToken), cancellationToken));
        switch (format)
        {
            case ListingFormat.Json:
                output.WriteLine(JsonSerializer.Serialize(result, HostJson.Default.PolicyStudyResult));
                return;
            case ListingFormat.Csv:
                Listing.WriteCsv(output, result.Policies, SimulatedColumns);
                return;
        }

        Listing.WriteTable(output, result.Policies, SimulatedColumns, string.Empty);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Per truck and year, over {result.TruckYears:0} truck-years of an invented fleet; low and high: 95 % limits from resampling trucks. Intervals are chosen with hindsight, the plan knows only what a keeper would."));
        output.WriteLine($"The plan saves {Words(result.SavedOfFixedInterval)} of the best fixed interval{(result.SavedOfFixedIntervalInLimit is { } inLimit ? $", {Words(inLimit)} of the best one that keeps nine pumps of ten within the maker's limit" : string.Empty)}, {Words(result.SavedOfFixedIntervalByModel)} of the best for each pump model.");
        output.WriteLine(PlanWords.Costs(result.CostsAreExamples));
    }

    private static string Words(ShareSaved saved) => string.Create(CultureInfo.InvariantCulture, $"{saved.Mid:0 %} ({saved.Low:0 %} to {saved.High:0 %})");
}
