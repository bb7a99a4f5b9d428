using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>What a gateway gathered on one local day.</summary>
/// <param name="Date">The day.</param>
/// <param name="Readings">In order of time by the gateway's clock; the same list every day.</param>
/// <param name="Sensors">The sensors in the units in which they are sent.</param>
/// <param name="ClockOffsetS">What the gateway's clock shows too much, s.</param>
internal readonly record struct GatewayDay(DateOnly Date, List<Reading> Readings, SensorSet Sensors, int ClockOffsetS);
