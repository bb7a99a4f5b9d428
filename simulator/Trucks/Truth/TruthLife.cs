namespace Vanehour.Simulator;

/// <summary>One life of a pump.</summary>
public sealed record TruthLife
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required DateTimeOffset FittedAt { get; init; }

    /// <summary>The meter at fitting, h.</summary>
    public required double MeterAtFittingH { get; init; }

    /// <summary>When wear reaches 1, or would have had no rebuild ended the life; null beyond two years past the end.</summary>
    public DateTimeOffset? LimitAt { get; init; }

    /// <summary>PTO hours since fitting at <see cref="LimitAt"/>.</summary>
    public double? LimitAtH { get; init; }

    /// <summary>PTO hours since fitting at which the pump fails, or would have; null beyond two years past the end.</summary>
    public double? FailsAtH { get; init; }

    /// <summary>When a rebuild ended the life within the time simulated, or null.</summary>
    public DateTimeOffset? RemovedAt { get; init; }
}
