namespace Vanehour.Board.Desk;

/// <summary>A table as people read it.</summary>
/// <param name="Columns">The columns, in order.</param>
/// <param name="Rows">The rows, a text for each column.</param>
public sealed record DeskTable(IReadOnlyList<DeskColumn> Columns, IReadOnlyList<IReadOnlyList<string>> Rows);
