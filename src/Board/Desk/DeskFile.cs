namespace Vanehour.Board.Desk;

/// <summary>A listing as a file.</summary>
/// <param name="Text">The file's text; null where it could not be made.</param>
/// <param name="Problem">Why it could not be made, or null.</param>
public sealed record DeskFile(string? Text, string? Problem);
