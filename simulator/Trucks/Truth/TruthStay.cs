namespace Vanehour.Simulator;

/// <summary>Days on which a truck stayed in, its power take-off and its gateway off: an inspection, a repair.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="From">The beginning of the first day.</param>
/// <param name="To">The beginning of the day on which it went out again.</param>
public sealed record TruthStay(string Truck, DateTimeOffset From, DateTimeOffset To);
