namespace Vanehour.Store.Telemetry;

/// <summary>A truck whose samples changed since its runs were last derived.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="EarliestMs">The earliest instant that changed, Unix ms.</param>
/// <param name="Revision">Grows with every batch that touches the truck.</param>
public sealed record TouchedTruck(string Truck, long EarliestMs, long Revision);
