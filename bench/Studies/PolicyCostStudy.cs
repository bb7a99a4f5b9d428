using System.Diagnostics;
using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Scoring.Policies;
using Vanehour.Simulator;

namespace Vanehour.Bench;

/// <summary>What maintenance policies cost on one simulated fleet, as 'vanehour plan --compare-policies --simulated' has it.</summary>
internal static class PolicyCostStudy
{
    public static void Run(SimulationOptions options, TextWriter output)
    {
        var watch = Stopwatch.StartNew();

        // Kits enough; one slot a week in each of the yards.
        var plan = new PlanOptions { UsualParts = new PartsSupply { InStock = 1000, LeadWeeks = 0 } };
        var result = PolicyStudy.Run(SimulatedFleet.Create(options), new PolicyStudyOptions { Plan = plan }, null, CancellationToken.None);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{options.Trucks} trucks, {options.Months} months, seed {options.Seed}, {options.Faults}; {result.TruckYears:F0} truck-years, {result.Plans} plans, {watch.Elapsed.TotalSeconds:F0} s"));
        foreach (var row in result.Policies)
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{row.Policy,-22} planned {row.PlannedPerYear:F2}, failures {row.FailuresPerYear:F2}, past the limit {row.PastLimitPerYear:F2} a truck-year, cost {row.CostPerYear:F0} ({row.Low:F0} to {row.High:F0}) {row.Setting}"));
        }

        output.WriteLine($"saved of the best fixed interval {Words(result.SavedOfFixedInterval)}, of the best within the limit {(result.SavedOfFixedIntervalInLimit is { } inLimit ? Words(inLimit) : "-")}, by model {Words(result.SavedOfFixedIntervalByModel)}");
    }

    private static string Words(ShareSaved saved) => string.Create(CultureInfo.InvariantCulture, $"{saved.Mid:P0} ({saved.Low:P0} to {saved.High:P0})");
}
