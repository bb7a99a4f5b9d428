using System.CommandLine;
using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Commands;

/// <summary>What 'life' and 'compare' read: the lives of the trucks asked for, as of the latest analysis or now, and the settings.</summary>
/// <param name="Table">The lives.</param>
/// <param name="Options">The settings.</param>
internal sealed record LifeReading(LifeTable Table, LifeOptions Options)
{
    /// <summary>Reads a data folder.</summary>
    /// <exception cref="CommandFailedException">It holds no data, the settings cannot be used, or no truck is what was asked for.</exception>
    public static LifeReading Of(ParseResult parsed, GlobalOptions globals, TruckFilter filter, CliEnvironment environment, CancellationToken cancellationToken)
    {
        var folder = parsed.GetValue(globals.Data)!;
        using var data = DataFolder.OpenExisting(folder);
        var options = SettingsFile.Bind<LifeOptions>(SettingsFile.Read(folder), "Life");
        if (options.Problems().FirstOrDefault() is { } problem)
        {
            throw new CommandFailedException("The settings section Life cannot be used: " + problem);
        }

        var trucks = filter.Trucks(parsed, data);
        var all = LifeTable.Build(FleetData.Read(data.Register, data.Runs, data.Results.LatestAsOf() ?? environment.Time.GetUtcNow(), cancellationToken));
        return new LifeReading(new LifeTable([.. all.Lives.Where(l => trucks.Contains(l.Truck))], [.. all.Problems.Where(p => trucks.Contains(p.Truck))]), options);
    }
}
