namespace Vanehour.Board.People;

/// <summary>What somebody may do on the Board.</summary>
public enum Role
{
    /// <summary>See everything, change nothing.</summary>
    Viewer,

    /// <summary>Also add records, mark findings and rounds, pin and block.</summary>
    Editor,
}
