using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>How likely a pump is to reach its limit, and to fail, before each week. Index 0 is the first week that can be planned.</summary>
public sealed record PumpRisk
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required string PumpModel { get; init; }

    public required string Yard { get; init; }

    /// <summary>Chance that wear is at its limit by the Monday of each week, 0..1, rising.</summary>
    public required ImmutableArray<double> LimitBy { get; init; }

    /// <summary>Chance that the pump has failed by the Monday of each week, 0..1, rising; as long as <see cref="LimitBy"/>.</summary>
    public required ImmutableArray<double> FailBy { get; init; }

    /// <summary>PTO hours a week, h.</summary>
    public required double HoursPerWeek { get; init; }

    /// <summary>What a vane hour thrown away is worth.</summary>
    public required double VaneHourValue { get; init; }

    /// <summary>The median date of the limit; null beyond the horizon.</summary>
    public DateTimeOffset? LimitAt { get; init; }

    public required RiskBasis Basis { get; init; }
}
