namespace Vanehour.Simulator.Tests;

/// <summary>Fleets that several tests share; a fleet is never changed by being read.</summary>
internal static class Fleets
{
    /// <summary>The default demonstration.</summary>
    public static readonly Lazy<SimulatedFleet> Demonstration = new(() => SimulatedFleet.Create(new SimulationOptions()));

    /// <summary>All twelve places of the pattern, one month.</summary>
    public static readonly Lazy<SimulatedFleet> Month = new(() => SimulatedFleet.Create(new SimulationOptions { Months = 1 }));

    public static SimulatedFleet Small(long seed = 1) => SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 1, Seed = seed });
}
