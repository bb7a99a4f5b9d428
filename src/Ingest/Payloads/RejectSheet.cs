using System.Globalization;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <summary>
/// Collects the rejects of a batch of messages. Of one message, the first few records refused for one reason are kept one by one;
/// the others of that reason are counted in a single reject, since 10 000 bad records in one payload must not fill a disk.
/// </summary>
public sealed class RejectSheet
{
    /// <summary>How many records of one message are named one by one for each reason.</summary>
    public const int NamedPerReason = 4;

    private static readonly int Reasons = Enum.GetValues<RejectReason>().Length;

    private readonly List<Reject> rejects = [];
    private readonly long[] counts = new long[Reasons];
    private readonly int[] inMessage = new int[Reasons];
    private readonly int[] lastRecord = new int[Reasons];
    private string topic = "";
    private long arrivedMs;
    private ReadOnlyMemory<byte> payload;
    private ReadOnlyMemory<byte>? kept;
    private int rejectsBefore;

    /// <summary>The rejects to keep.</summary>
    public IReadOnlyList<Reject> Rejects => rejects;

    /// <summary>How many messages or records were refused, by the number of the reason.</summary>
    public ReadOnlySpan<long> Counts => counts;

    /// <summary>Starts the rejects of a message.</summary>
    /// <param name="messageTopic">Its topic.</param>
    /// <param name="messageArrivedMs">When it arrived, Unix ms.</param>
    /// <param name="messagePayload">Its payload, of which the first 4 KiB are kept.</param>
    public void Open(string messageTopic, long messageArrivedMs, ReadOnlyMemory<byte> messagePayload)
    {
        topic = messageTopic;
        arrivedMs = messageArrivedMs;
        payload = messagePayload;
        kept = null;
        rejectsBefore = rejects.Count;
        Array.Clear(inMessage);
    }

    /// <summary>Refuses a record, or the message where the fault names no record.</summary>
    public void Add(SenMLFault fault)
    {
        var reason = (int)fault.Reason;
        inMessage[reason]++;
        lastRecord[reason] = fault.Record;
        if (inMessage[reason] <= NamedPerReason)
        {
            rejects.Add(new Reject(topic, arrivedMs, fault.Reason, fault.ToString(), Kept()));
        }
    }

    /// <summary>Forgets what was refused of the message so far: it is to be refused as a whole.</summary>
    public void Restart()
    {
        rejects.RemoveRange(rejectsBefore, rejects.Count - rejectsBefore);
        Array.Clear(inMessage);
    }

    /// <summary>Ends the rejects of a message.</summary>
    /// <returns>How many there were.</returns>
    public int Close()
    {
        var total = 0;
        for (var reason = 0; reason < Reasons; reason++)
        {
            var times = inMessage[reason];
            total += times;
            counts[reason] += times;
            if (times > NamedPerReason)
            {
                var more = string.Create(
                    CultureInfo.InvariantCulture,
                    $"{times - NamedPerReason} more records of this message for the same reason, the last of them record {lastRecord[reason]}");
                rejects.Add(new Reject(topic, arrivedMs, (RejectReason)reason, more, Kept()));
            }
        }

        return total;
    }

    // A copy of a large payload's beginning, so that a small reject does not hold on to all of it.
    private ReadOnlyMemory<byte> Kept() =>
        kept ??= payload.Length > Reject.KeptBytes ? payload[..Reject.KeptBytes].ToArray() : payload;
}
