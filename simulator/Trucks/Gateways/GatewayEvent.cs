namespace Vanehour.Simulator;

/// <summary>What was injected into a truck's telemetry, and when. Only scoring may read it.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Kind">What.</param>
/// <param name="From">When it began, UTC by a right clock.</param>
/// <param name="To">When it ended; not before <paramref name="From"/>.</param>
public sealed record GatewayEvent(string Truck, GatewayEventKind Kind, DateTimeOffset From, DateTimeOffset To);
