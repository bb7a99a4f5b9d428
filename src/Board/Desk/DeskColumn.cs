namespace Vanehour.Board.Desk;

/// <summary>A column of a table.</summary>
/// <param name="Name">Its name in files.</param>
/// <param name="Heading">Its heading.</param>
/// <param name="IsNumber">Whether its values are numbers, which stand to the right.</param>
public sealed record DeskColumn(string Name, string Heading, bool IsNumber);
