using Vanehour.Fleet;

namespace Vanehour.Simulator.Sensors;

/// <summary>What a truck's gateway read at one instant, in the units it sends.</summary>
/// <param name="UnixS">The instant, s since 1970-01-01 UTC.</param>
/// <param name="Values">The values in the units of the truck's <see cref="SensorSet"/>.</param>
internal readonly record struct Reading(long UnixS, SignalValues Values);
