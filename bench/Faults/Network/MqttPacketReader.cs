namespace Vanehour.Bench.Faults.Network;

/// <summary>Gets a whole MQTT packet.</summary>
/// <param name="firstByte">Type and flags.</param>
/// <param name="body">What follows the remaining length.</param>
internal delegate void MqttPacketHandler(byte firstByte, ReadOnlySpan<byte> body);

/// <summary>Cuts one direction of an MQTT connection into packets (MQTT 5.0, sections 2.1 and 1.5.5), however the bytes arrive.</summary>
internal sealed class MqttPacketReader(MqttPacketHandler handler)
{
    private byte[] buffer = new byte[64 * 1024];
    private int length;

    public void Feed(ReadOnlySpan<byte> bytes)
    {
        if (buffer.Length - length < bytes.Length)
        {
            Array.Resize(ref buffer, Math.Max(buffer.Length * 2, length + bytes.Length));
        }

        bytes.CopyTo(buffer.AsSpan(length));
        length += bytes.Length;
        var start = 0;
        while (TryPacket(buffer.AsSpan(start, length - start), out var packet))
        {
            start += packet;
        }

        buffer.AsSpan(start, length - start).CopyTo(buffer);
        length -= start;
    }

    /// <summary>Reads a variable byte integer and moves past it; null where it is not all there.</summary>
    public static int? VariableByteInteger(ref ReadOnlySpan<byte> from)
    {
        var value = 0;
        for (var i = 0; i < Math.Min(4, from.Length); i++)
        {
            value |= (from[i] & 0x7F) << (7 * i);
            if ((from[i] & 0x80) == 0)
            {
                from = from[(i + 1)..];
                return value;
            }
        }

        return null;
    }

    private bool TryPacket(ReadOnlySpan<byte> bytes, out int taken)
    {
        taken = 0;
        if (bytes.Length < 2)
        {
            return false;
        }

        var rest = bytes[1..];
        if (VariableByteInteger(ref rest) is not { } size || rest.Length < size)
        {
            return false;
        }

        handler(bytes[0], rest[..size]);
        taken = bytes.Length - rest.Length + size;
        return true;
    }
}
