namespace Vanehour.Models.Planning;

/// <summary>A rebuild in a week.</summary>
public sealed record PlannedJob
{
    public required PlanWeek Week { get; init; }

    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required string PumpModel { get; init; }

    public required string Yard { get; init; }

    /// <summary>The day, by UTC, on which the pump's life began; null where an earlier version wrote the plan.</summary>
    public DateOnly? FittedOn { get; init; }

    /// <summary>Of the rebuild in this week: the job, the chance of a failure before it, vane hours thrown away.</summary>
    public required double ExpectedCost { get; init; }

    /// <summary>Chance that wear is at its limit before this week, 0..1.</summary>
    public required double ChanceBefore { get; init; }

    /// <summary>Chance that the pump fails before this week, 0..1.</summary>
    public required double ChanceOfFailure { get; init; }

    /// <summary>Why this week, in a sentence.</summary>
    public required string Reason { get; init; }

    /// <summary>Whether a person has said so.</summary>
    public required bool Pinned { get; init; }

    /// <summary>Whether a spare pump is put on; else the pump is rebuilt on the truck.</summary>
    public bool Swap { get; init; }

    /// <summary>The week that would cost least for this pump alone.</summary>
    public required PlanWeek BestWeek { get; init; }

    /// <summary>What a week earlier would cost more for this pump alone; below 0 where it would cost less, null where there is none.</summary>
    public double? WeekEarlier { get; init; }

    /// <summary>What a week later would cost more for this pump alone; null at the end of the horizon.</summary>
    public double? WeekLater { get; init; }

    /// <summary>The median date of the limit; null beyond the forecast's horizon.</summary>
    public DateTimeOffset? LimitAt { get; init; }

    public required RiskBasis Basis { get; init; }
}
