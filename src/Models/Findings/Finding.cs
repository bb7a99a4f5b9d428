using System.Collections.Immutable;
using System.Text.Json.Serialization;
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

    /// <summary>What a person really found; null too where a person found nothing (<see cref="NothingFound"/>).</summary>
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

    /// <summary>What closed it; null while it is open, and where an older version closed it.</summary>
    public FindingClosing? Closing { get; init; }

    /// <summary>Who acknowledged it, where that was said.</summary>
    public string? AcknowledgedBy { get; init; }

    /// <summary>Who said what was found, where that was said.</summary>
    public string? ClosedBy { get; init; }

    /// <summary>A person looked, and nothing was wrong: a false alarm.</summary>
    public bool NothingFound { get; init; }

    /// <summary>What the watch of new samples saw of it; null where it saw nothing.</summary>
    public WatchedLimit? Watched { get; init; }

    /// <summary>Whether a person has said what was found. Only data after such a closing raises it again.</summary>
    [JsonIgnore]
    public bool HasVerdict => CauseFound is not null || NothingFound;
}
