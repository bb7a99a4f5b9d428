namespace Vanehour.Board.Desk;

/// <summary>The listings, named as the command line names them.</summary>
public enum DeskList
{
    Trucks,
    Runs,
    Findings,
    Wear,
    Life,
    Compare,
    Models,
    Plan,
    Marks,
    Rounds,
    Rejects,
    Records,
    History,
}
