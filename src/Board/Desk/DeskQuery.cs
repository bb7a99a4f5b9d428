namespace Vanehour.Board.Desk;

/// <summary>What is to be listed.</summary>
/// <param name="List">Which listing.</param>
/// <param name="Truck">Of this truck alone; null: of all.</param>
/// <param name="Yard">Of this yard alone; null: of all.</param>
public sealed record DeskQuery(DeskList List, string? Truck = null, string? Yard = null);
