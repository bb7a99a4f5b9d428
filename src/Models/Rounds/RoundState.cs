namespace Vanehour.Models.Rounds;

/// <summary>Where a check stands, most pressing first.</summary>
public enum RoundState
{
    /// <summary>An open finding asks for it now, whatever its rhythm says.</summary>
    PulledForward,

    /// <summary>Past due by more than the grace, on a truck that has worked meanwhile.</summary>
    Overdue,

    Due,

    DueSoon,

    /// <summary>Due, but the truck is not at work: it waits for the truck's next start.</summary>
    Resting,

    /// <summary>Done, and not due for a while.</summary>
    Done,

    /// <summary>Nobody marks this round on this truck, so nothing is said of when it is due.</summary>
    NotKept,
}
