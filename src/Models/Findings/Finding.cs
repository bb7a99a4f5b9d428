using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>Something the data says needs a person.</summary>
public sealed record Finding
{
    /// <summary>Stable while the finding lives.</summary>
    public required string Id { get; init; }

    /// <summary>The truck, or null for a finding about the installation.</summary>
    public string? Truck { get; init; }

    public string? PumpSerial { get; init; }

    public required FindingKind Kind { get; init; }

    public required Urgency Urgency { get; init; }

    public required FindingStatus Status { get; init; }

    /// <summary>The first instant whose data shows it.</summary>
    public required DateTimeOffset Since { get; init; }

    public DateTimeOffset? Closed { get; init; }

    public string? Note { get; init; }

    /// <summary>What a person really found.</summary>
    public Cause? CauseFound { get; init; }

    public required ImmutableArray<Evidence> Evidence { get; init; }

    /// <summary>How it began; null where no change stands out.</summary>
    public Beginning? Began { get; init; }

    /// <summary>How the pump stands otherwise, against the time before the finding.</summary>
    public ImmutableArray<SignReading> Signs { get; init; } = [];

    /// <summary>Likely causes, likeliest first.</summary>
    public required ImmutableArray<RankedCause> Causes { get; init; }

    /// <summary>What to check, best first.</summary>
    public required ImmutableArray<Check> Checks { get; init; }
}
