namespace Vanehour.Bench.Faults.Feed;

/// <summary>Keeps book of every message: sent, acknowledged by the broker, acknowledged by a worker.</summary>
internal sealed class FeedLedger
{
    private readonly Lock gate = new();
    private readonly Dictionary<ulong, (PlannedMessage Message, Duty Duty)> messages = [];
    private List<PlannedMessage> newlyTaken = [];
    private long brokerTook;
    private long unknownAcknowledged;
    private long unsubscribed;

    /// <summary>Different messages that the broker acknowledged.</summary>
    public long BrokerTookMessages => Interlocked.Read(ref brokerTook);

    /// <summary>Acknowledgements of a worker for payloads that were never sent: must be 0.</summary>
    public long UnknownAcknowledged => Interlocked.Read(ref unknownAcknowledged);

    /// <summary>Times the broker said that nobody subscribes: it threw the message away, and it was sent again.</summary>
    public long Unsubscribed => Interlocked.Read(ref unsubscribed);

    public void Sent(PlannedMessage message, ReadOnlySpan<byte> payload) => Mark(PayloadHash.Of(payload), message, Duty.Sent);

    public void BrokerTook(PlannedMessage message, ReadOnlySpan<byte> payload)
    {
        if (Mark(PayloadHash.Of(payload), message, Duty.BrokerTook))
        {
            Interlocked.Increment(ref brokerTook);
        }
    }

    public void NobodySubscribes() => Interlocked.Increment(ref unsubscribed);

    public void WorkerTook(ulong payload)
    {
        lock (gate)
        {
            if (!messages.TryGetValue(payload, out var entry))
            {
                unknownAcknowledged++;
                return;
            }

            messages[payload] = (entry.Message, entry.Duty | Duty.WorkerTook);
            newlyTaken.Add(entry.Message);
        }
    }

    /// <summary>What workers acknowledged since this was last asked.</summary>
    public IReadOnlyList<PlannedMessage> TakeNewlyTaken()
    {
        lock (gate)
        {
            var taken = newlyTaken;
            newlyTaken = [];
            return taken;
        }
    }

    /// <summary>Every message and who has said what about it.</summary>
    public IReadOnlyList<(PlannedMessage Message, Duty Duty)> Snapshot()
    {
        lock (gate)
        {
            return [.. messages.Values];
        }
    }

    /// <summary>The message of a payload, or null.</summary>
    public PlannedMessage? Find(ReadOnlySpan<byte> payload)
    {
        lock (gate)
        {
            return messages.TryGetValue(PayloadHash.Of(payload), out var entry) ? entry.Message : null;
        }
    }

    // Whether that is new.
    private bool Mark(ulong hash, PlannedMessage message, Duty duty)
    {
        lock (gate)
        {
            messages.TryGetValue(hash, out var entry);
            messages[hash] = (message, entry.Duty | duty);
            return (entry.Duty & duty) == 0;
        }
    }
}
