using System.Collections.Concurrent;
using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests;

/// <summary>Fleets that several tests share; a fleet is never changed by being read.</summary>
internal static class Fleets
{
    /// <summary>The default demonstration.</summary>
    public static readonly Lazy<SimulatedFleet> Demonstration = new(() => SimulatedFleet.Create(new SimulationOptions()));

    /// <summary>All twelve places of the pattern, one month.</summary>
    public static readonly Lazy<SimulatedFleet> Month = new(() => SimulatedFleet.Create(new SimulationOptions { Months = 1 }));

    /// <summary>All twelve places of the pattern, one month, as dirty as it goes.</summary>
    public static readonly Lazy<SimulatedFleet> DirtyMonth = new(() => SimulatedFleet.Create(new SimulationOptions { Months = 1, Dirt = 3 }));

    /// <summary>The messages of <see cref="DirtyMonth"/>, made once.</summary>
    public static readonly Lazy<SimulatedMessage[]> DirtyMonthMessages = new(() => [.. DirtyMonth.Value.Messages()]);

    private static readonly ConcurrentDictionary<string, Lazy<Sample[]>> Demonstrated = new();

    /// <summary>The samples of a truck of the default demonstration, made once.</summary>
    public static Sample[] DemonstrationSamples(string truck) =>
        Demonstrated.GetOrAdd(truck, t => new(() => [.. Demonstration.Value.Samples(t)])).Value;

    public static SimulatedFleet Small(long seed = 1) => SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 1, Seed = seed });
}
