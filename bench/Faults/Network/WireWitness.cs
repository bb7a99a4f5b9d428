using System.Buffers.Binary;
using Vanehour.Bench.Faults.Feed;

namespace Vanehour.Bench.Faults.Network;

/// <summary>Watches one connection between broker and worker, and notes in the ledger what the worker acknowledges.</summary>
internal sealed class WireWitness
{
    private const int Publish = 3;
    private const int PublishAcknowledgement = 4;

    private readonly FeedLedger ledger;
    private readonly Dictionary<ushort, ulong> outstanding = [];
    private readonly Lock gate = new();
    private readonly MqttPacketReader fromBroker;
    private readonly MqttPacketReader fromWorker;
    private long delivered;
    private long acknowledged;

    public WireWitness(FeedLedger ledger)
    {
        this.ledger = ledger;
        fromBroker = new MqttPacketReader(OnBrokerPacket);
        fromWorker = new MqttPacketReader(OnWorkerPacket);
    }

    /// <summary>Messages the broker has sent.</summary>
    public long Delivered => Interlocked.Read(ref delivered);

    /// <summary>Messages the worker has acknowledged.</summary>
    public long Acknowledged => Interlocked.Read(ref acknowledged);

    /// <summary>Messages the worker holds without having acknowledged them.</summary>
    public int Outstanding
    {
        get
        {
            lock (gate)
            {
                return outstanding.Count;
            }
        }
    }

    public void FromBroker(ReadOnlySpan<byte> bytes) => fromBroker.Feed(bytes);

    public void FromWorker(ReadOnlySpan<byte> bytes) => fromWorker.Feed(bytes);

    // MQTT 5.0, section 3.3: topic, packet id (QoS 1), properties, payload.
    private void OnBrokerPacket(byte firstByte, ReadOnlySpan<byte> body)
    {
        if (firstByte >> 4 != Publish || (firstByte & 0b110) == 0)
        {
            return;
        }

        var rest = body[(2 + BinaryPrimitives.ReadUInt16BigEndian(body))..];
        var id = BinaryPrimitives.ReadUInt16BigEndian(rest);
        rest = rest[2..];
        var properties = MqttPacketReader.VariableByteInteger(ref rest) ?? throw new InvalidDataException("A PUBLISH packet has no properties.");
        var hash = PayloadHash.Of(rest[properties..]);
        lock (gate)
        {
            outstanding[id] = hash;
        }

        Interlocked.Increment(ref delivered);
    }

    private void OnWorkerPacket(byte firstByte, ReadOnlySpan<byte> body)
    {
        if (firstByte >> 4 != PublishAcknowledgement)
        {
            return;
        }

        ulong hash;
        lock (gate)
        {
            if (!outstanding.Remove(BinaryPrimitives.ReadUInt16BigEndian(body), out hash))
            {
                // An acknowledgement of what was never delivered on this connection matches no message.
                hash = 0;
            }
        }

        Interlocked.Increment(ref acknowledged);
        ledger.WorkerTook(hash);
    }
}
