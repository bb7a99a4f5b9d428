namespace Vanehour.Scoring.Drills;

/// <summary>What a trainee would do about what was found. The names and the choice are of our own.</summary>
public enum DrillAction
{
    /// <summary>Take the truck off the job now: every hour more does harm.</summary>
    StopNow,

    /// <summary>Check and repair within the week; the truck may work until then.</summary>
    RepairThisWeek,

    /// <summary>Book the rebuild: the vanes are near their limit.</summary>
    PlanRebuild,

    /// <summary>Measure the vane width before anything is booked.</summary>
    MeasureVanes,

    /// <summary>Check the instrument before the pump is touched.</summary>
    CheckInstrument,

    /// <summary>Nothing to repair: go on watching the trends.</summary>
    KeepWatching,
}
