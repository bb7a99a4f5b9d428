using Vanehour.Fleet;

namespace Vanehour.Ingest.Payloads;

/// <summary>What a payload may be, before and after it is read.</summary>
public sealed record DecodeLimits
{
    /// <summary>Largest payload, bytes.</summary>
    public int MaxPayloadBytes { get; init; } = 256 * 1024;

    /// <summary>Most records in a pack.</summary>
    public int MaxRecords { get; init; } = SenMLReader.DefaultMaxRecords;

    /// <summary>How far ahead of the arrival an instant may be.</summary>
    public TimeSpan MaxAhead { get; init; } = SampleTime.MaxAhead;

    /// <summary>Whether a time relative to the arrival is admitted. A redelivery then makes other samples.</summary>
    public bool AdmitRelativeTime { get; init; }
}
