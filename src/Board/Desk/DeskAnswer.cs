namespace Vanehour.Board.Desk;

/// <summary>What came of what somebody asked for.</summary>
/// <param name="Done">Whether it was done.</param>
/// <param name="Sentences">What was done, or why it was not, in sentences.</param>
public sealed record DeskAnswer(bool Done, IReadOnlyList<string> Sentences);
