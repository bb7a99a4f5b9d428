namespace Vanehour.Simulator;

/// <summary>What was published, every message acknowledged by the broker.</summary>
/// <param name="Messages">Number of messages.</param>
/// <param name="Samples">Number of instants in them.</param>
/// <param name="PayloadBytes">Bytes of payload.</param>
public sealed record PublishResult(long Messages, long Samples, long PayloadBytes)
{
    /// <summary>How many messages earlier starts had published, which this one left out.</summary>
    public long PublishedBefore { get; init; }
}
