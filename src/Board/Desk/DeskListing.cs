namespace Vanehour.Board.Desk;

/// <summary>A listing as people read it.</summary>
/// <param name="Tables">Its tables.</param>
/// <param name="Sentences">The sentences around them; where it could not be made, why.</param>
/// <param name="Made">Whether it could be made.</param>
public sealed record DeskListing(IReadOnlyList<DeskTable> Tables, IReadOnlyList<string> Sentences, bool Made);
