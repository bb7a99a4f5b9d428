namespace Vanehour.Fleet.Lives;

/// <summary>The time one pump spent on one truck from fitting (new or rebuilt) to removal.</summary>
public sealed record Life
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required string PumpModel { get; init; }

    public required DateTimeOffset FittedAt { get; init; }

    /// <summary>PTO hours on the meter at fitting.</summary>
    public required double MeterAtFittingH { get; init; }

    /// <summary>When the life ended, or null while it runs.</summary>
    public DateTimeOffset? EndedAt { get; init; }

    /// <summary>PTO hours on the meter at the end, or null while it runs.</summary>
    public double? MeterAtEndH { get; init; }

    /// <summary>What ended it: <see cref="ServiceKind.Rebuild"/>, <see cref="ServiceKind.Failure"/> or <see cref="ServiceKind.Removed"/>; null while it runs.</summary>
    public ServiceKind? EndedBy { get; init; }

    /// <summary>Whether the pump is on the truck at <paramref name="at"/>: from fitting, up to but not at the end.</summary>
    public bool Covers(DateTimeOffset at) => at >= FittedAt && (EndedAt is not { } end || at < end);
}
