namespace Vanehour.Models.Planning;

/// <summary>A truck that is silent against its own pattern.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="LastHeard">When it was heard last; null: never.</param>
public sealed record SilentTruck(string Truck, DateTimeOffset? LastHeard);
