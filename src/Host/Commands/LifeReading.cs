using System.CommandLine;
using Microsoft.Extensions.Configuration;
using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Commands;

/// <summary>What 'life' and 'compare' read: the pumps and lives of the trucks asked for, as of the latest analysis or now, and the settings.</summary>
/// <param name="AsOf">As of when.</param>
/// <param name="Table">The lives.</param>
/// <param name="Pumps">The pumps with their runs.</param>
/// <param name="Options">The settings.</param>
internal sealed record LifeReading(DateTimeOffset AsOf, LifeTable Table, IReadOnlyList<PumpHistory> Pumps, LifeOptions Options)
{
    /// <summary>Reads a data folder.</summary>
    /// <exception cref="CommandFailedException">The settings cannot be used, or no truck is what was asked for.</exception>
    public static LifeReading Of(ParseResult parsed, DataFolder data, TruckFilter filter, CliEnvironment environment, CancellationToken cancellationToken)
    {
        var settings = SettingsFile.Read(data.Folder);
        var options = WithCostsOfPlan(SettingsFile.Bind<LifeOptions>(settings, "Life"), settings);
        if (options.Problems().FirstOrDefault() is { } problem)
        {
            throw new CommandFailedException("The settings section Life cannot be used: " + problem);
        }

        var trucks = filter.Trucks(parsed, data);
        var asOf = data.Results.LatestAsOf() ?? environment.Time.GetUtcNow();
        var fleet = FleetData.Read(data.Register, data.Runs, asOf, cancellationToken);
        var all = LifeTable.Build(fleet);
        return new LifeReading(
            asOf,
            new LifeTable([.. all.Lives.Where(l => trucks.Contains(l.Truck))], [.. all.Problems.Where(p => trucks.Contains(p.Truck))]),
            [.. fleet.Pumps.Where(p => trucks.Contains(p.Truck.Id))],
            options);
    }

    // Costs are said once: where section Plan has them, they count here too, unless section Life says otherwise.
    private static LifeOptions WithCostsOfPlan(LifeOptions options, IConfiguration settings)
    {
        var plan = PlanJob.OptionsOf(settings);
        var life = settings.GetSection("Life");
        return plan.CostsAreExamples ? options : options with
        {
            FailureCostRatio = life["FailureCostRatio"] is null ? plan.Costs.Failure / plan.Costs.PlannedRebuild : options.FailureCostRatio,
            PlannedRebuildCost = life["PlannedRebuildCost"] is null ? plan.Costs.PlannedRebuild : options.PlannedRebuildCost,
        };
    }
}
