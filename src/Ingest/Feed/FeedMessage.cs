namespace Vanehour.Ingest.Feed;

/// <summary>A message as it came from the feed, waiting to be stored and acknowledged.</summary>
public sealed class FeedMessage
{
    private readonly Func<CancellationToken, Task<bool>> acknowledge;

    /// <summary>Makes a message.</summary>
    /// <param name="topic">Its topic.</param>
    /// <param name="payload">Its payload, or the first part of one that is too large anyway. Not changed afterwards.</param>
    /// <param name="payloadBytes">How long the payload was, bytes.</param>
    /// <param name="arrivedMs">When it arrived, Unix ms.</param>
    /// <param name="acknowledge">Acknowledges it; false when that is no longer possible and it will come again. Throws only when cancelled.</param>
    public FeedMessage(
        string topic, ReadOnlyMemory<byte> payload, long payloadBytes, long arrivedMs, Func<CancellationToken, Task<bool>> acknowledge)
    {
        ArgumentNullException.ThrowIfNull(topic);
        ArgumentNullException.ThrowIfNull(acknowledge);
        ArgumentOutOfRangeException.ThrowIfLessThan(payloadBytes, payload.Length);
        Topic = topic;
        Payload = payload;
        PayloadBytes = payloadBytes;
        ArrivedMs = arrivedMs;
        this.acknowledge = acknowledge;
    }

    public string Topic { get; }

    public ReadOnlyMemory<byte> Payload { get; private set; }

    /// <summary>How long the payload was, bytes; more than is held when it was cut.</summary>
    public long PayloadBytes { get; }

    /// <summary>When it arrived, Unix ms.</summary>
    public long ArrivedMs { get; }

    /// <summary>Tells the broker that the message is done with.</summary>
    /// <returns>False when the connection it came by is gone: the broker will send it again.</returns>
    public Task<bool> AcknowledgeAsync(CancellationToken cancellationToken) => acknowledge(cancellationToken);

    /// <summary>Lets go of the payload once it is decoded; rejects keep their own part.</summary>
    internal void ReleasePayload() => Payload = default;
}
