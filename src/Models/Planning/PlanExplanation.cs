using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>Why a pump is where it is in a plan.</summary>
public sealed record PlanExplanation
{
    public required string Truck { get; init; }

    public required PumpRisk Risk { get; init; }

    /// <summary>Its job; null where it is later.</summary>
    public PlannedJob? Job { get; init; }

    /// <summary>What it costs at best after the horizon.</summary>
    public required double CostLater { get; init; }

    /// <summary>Every week of the horizon, in order.</summary>
    public required ImmutableArray<WeekOption> Weeks { get; init; }
}
