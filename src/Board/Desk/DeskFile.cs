namespace Vanehour.Board.Desk;

/// <summary>A listing as a file.</summary>
/// <param name="Text">The file's text; null where it could not be made.</param>
/// <param name="Problem">Why it could not be made, or null.</param>
/// <param name="IsAskedWrongly">Whether the question was no question of this listing, whatever the fleet holds.</param>
public sealed record DeskFile(string? Text, string? Problem, bool IsAskedWrongly = false);
