using System.Buffers.Binary;
using System.Security.Cryptography;
using Vanehour.Fleet;

namespace Vanehour.Host.Moving;

/// <summary>Counts samples and sums them up in a SHA-256, so that two stores can be compared without holding either in memory.</summary>
internal sealed class SampleDigest : IDisposable
{
    private const int BytesPerSample = sizeof(long) * (1 + SignalInfo.Count);

    private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly byte[] block = new byte[BytesPerSample * 512];
    private int length;

    public long Samples { get; private set; }

    /// <summary>Takes in the next sample of a truck, in order of time.</summary>
    public void Add(in Sample sample)
    {
        if (length == block.Length)
        {
            Flush();
        }

        Put(sample.UnixMs);
        var values = sample.Values;
        foreach (var value in values)
        {
            // One bit pattern for a signal not sent, and one for zero: -0 reads back as 0 from some stores.
            Put(BitConverter.DoubleToInt64Bits(double.IsNaN(value) ? double.NaN : value == 0 ? 0 : value));
        }

        Samples++;
    }

    /// <summary>The sum over all samples taken in since the last.</summary>
    public string Close()
    {
        Flush();
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <inheritdoc/>
    public void Dispose() => hash.Dispose();

    private void Put(long value)
    {
        BinaryPrimitives.WriteInt64LittleEndian(block.AsSpan(length), value);
        length += sizeof(long);
    }

    private void Flush()
    {
        hash.AppendData(block.AsSpan(0, length));
        length = 0;
    }
}
