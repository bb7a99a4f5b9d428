using System.CommandLine;
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
        var options = SettingsFile.Bind<LifeOptions>(SettingsFile.Read(data.Folder), "Life");
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
}
