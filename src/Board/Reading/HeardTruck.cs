namespace Vanehour.Board.Reading;

/// <summary>What was heard of a truck.</summary>
/// <param name="Truck">Its id.</param>
/// <param name="Samples">Samples stored.</param>
/// <param name="First">The earliest sample.</param>
/// <param name="Last">The latest sample.</param>
public sealed record HeardTruck(string Truck, long Samples, DateTimeOffset First, DateTimeOffset Last);
