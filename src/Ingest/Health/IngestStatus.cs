using System.Collections.Immutable;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Health;

/// <summary>How the ingest worker is doing, as of one moment. Counts are since the worker's start.</summary>
public sealed record IngestStatus
{
    /// <summary>Whether the worker runs.</summary>
    public required bool Running { get; init; }

    /// <summary>Whether the broker is connected and the subscription stands.</summary>
    public required bool Connected { get; init; }

    /// <summary>Why the broker is not connected, as a sentence; null while it is, or before the first attempt.</summary>
    public required string? BrokerProblem { get; init; }

    /// <summary>Why the last attempt to store failed, as a sentence; null while storing works.</summary>
    public required string? StoreProblem { get; init; }

    /// <summary>Connections made.</summary>
    public required long Connections { get; init; }

    /// <summary>Messages received, redeliveries included.</summary>
    public required long MessagesReceived { get; init; }

    /// <summary>Messages stored and acknowledged.</summary>
    public required long MessagesAcknowledged { get; init; }

    /// <summary>Messages stored whose connection was gone before they could be acknowledged: the broker sends them again.</summary>
    public required long MessagesUnacknowledged { get; init; }

    /// <summary>Messages received and neither acknowledged nor given up.</summary>
    public required long Backlog { get; init; }

    /// <summary>Samples stored, those stored again included.</summary>
    public required long SamplesStored { get; init; }

    /// <summary>Records with base fields only.</summary>
    public required long BaseOnlyRecords { get; init; }

    /// <summary>Records of metrics that the settings leave out.</summary>
    public required long LeftOutRecords { get; init; }

    /// <summary>Messages and records refused, by reason; reasons not met are absent.</summary>
    public required ImmutableSortedDictionary<RejectReason, long> Rejects { get; init; }

    /// <summary>When a batch was last made durable, or null.</summary>
    public required DateTimeOffset? LastFlush { get; init; }

    /// <summary>When the pipeline last showed life: every 5 s when idle, at every attempt while the store is away.</summary>
    public required DateTimeOffset? LastTick { get; init; }

    /// <summary>Since when messages wait with none acknowledged; null when none waits.</summary>
    public required DateTimeOffset? WaitingSince { get; init; }

    /// <summary>Messages and records refused, all told.</summary>
    public long RejectsTotal => Rejects.Values.Sum();

    /// <summary>Whether the worker can do its job: broker connected, store writable, and nothing waiting for longer than it should.</summary>
    /// <param name="now">The clock.</param>
    /// <param name="longestWait">How long messages may wait with none acknowledged.</param>
    public bool IsReady(DateTimeOffset now, TimeSpan longestWait) =>
        Running && Connected && StoreProblem is null && (WaitingSince is null || now - WaitingSince.Value <= longestWait);
}
