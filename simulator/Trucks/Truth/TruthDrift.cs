namespace Vanehour.Simulator;

/// <summary>From an instant on the vanes of a truck's pump wore faster, for no cause that shows.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Onset">The instant.</param>
/// <param name="Factor">The wear rate over what it would have been.</param>
public sealed record TruthDrift(string Truck, DateTimeOffset Onset, double Factor);
