using System.Globalization;

namespace Vanehour.Fleet.Import;

/// <summary>
/// Writes samples as the rows that <see cref="SampleCsvReader"/> reads: canonical units, every digit that counts, UTC to the millisecond.
/// Rows go out in blocks; <see cref="Flush"/> hands over the last.
/// </summary>
/// <param name="output">Where to; lines end in LF.</param>
public sealed class SampleCsvWriter(TextWriter output)
{
    // A truck's id, an instant and ten numbers of at most 24 characters fit easily.
    private const int LongestRow = 512;

    private readonly char[] block = new char[64 * 1024];
    private int length;

    /// <summary>Writes the header.</summary>
    public void WriteHeader() =>
        output.Write($"{SampleColumn.Truck},{SampleColumn.Time},{string.Join(',', SampleColumn.Canonical.Select(c => c.Name))}\n");

    /// <summary>Writes one sample.</summary>
    public void Write(in Sample sample)
    {
        if (block.Length - length < LongestRow)
        {
            Flush();
        }

        sample.Truck.CopyTo(block.AsSpan(length));
        length += sample.Truck.Length;
        block[length++] = ',';
        Put(sample.At.UtcDateTime, "yyyy-MM-dd'T'HH:mm:ss.FFF'Z'");
        var values = sample.Values;
        foreach (var column in SampleColumn.Canonical)
        {
            block[length++] = ',';
            var value = values.Raw(column.Signal.Signal);
            if (!double.IsNaN(value))
            {
                // No format is the shortest text that reads back as the same number.
                Put(value, default);
            }
        }

        block[length++] = '\n';
    }

    /// <summary>Hands over what is still held.</summary>
    public void Flush()
    {
        output.Write(block, 0, length);
        length = 0;
    }

    private void Put<T>(T value, ReadOnlySpan<char> format)
        where T : ISpanFormattable
    {
        if (!value.TryFormat(block.AsSpan(length), out var written, format, CultureInfo.InvariantCulture))
        {
            throw new InvalidOperationException("A value is longer than a row.");
        }

        length += written;
    }
}
