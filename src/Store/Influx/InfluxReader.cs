using System.Globalization;
using System.Runtime.CompilerServices;
using Vanehour.Fleet;

namespace Vanehour.Store.Influx;

/// <summary>Reads the samples of a truck page by page in order of time, so that no answer is longer than a page and none is read without a deadline.</summary>
internal sealed class InfluxReader(InfluxConnection connection)
{
    /// <summary>Rows in a page.</summary>
    public const int PageRows = 10_000;

    private static readonly string Fields = string.Join(", ", SignalInfo.All.Select(s => InfluxQl.Identifier(s.Name)));

    /// <summary>The samples from <paramref name="fromMs"/> up to but not at <paramref name="toMs"/>.</summary>
    /// <exception cref="InfluxException">They cannot be read now.</exception>
    public async IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        while (fromMs < toMs)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var page = await PageAsync(truck, fromMs, toMs, cancellationToken);
            foreach (var sample in page.Samples)
            {
                yield return sample;
            }

            if (page.Rows < PageRows)
            {
                yield break;
            }

            fromMs = page.Samples[^1].UnixMs + 1;
        }
    }

    private async Task<(List<Sample> Samples, int Rows)> PageAsync(string truck, long fromMs, long toMs, CancellationToken cancellationToken)
    {
        var query = string.Create(
            CultureInfo.InvariantCulture,
            $"SELECT {Fields} FROM {InfluxQl.Identifier(connection.Options.Measurement)} WHERE \"truck\" = {InfluxQl.Text(InfluxName.ToTag(truck))} AND time >= {InfluxQl.Instant(fromMs)} AND time < {InfluxQl.Instant(toMs)} ORDER BY time LIMIT {PageRows}");
        var samples = new List<Sample>();
        var rows = 0;
        var time = -1;
        var signals = Array.Empty<int>();
        await connection.QueryAsync(
            query,
            row =>
            {
                if (row.IsHeader)
                {
                    (time, signals) = Columns(row);
                    return;
                }

                rows++;
                Add(samples, Parse(truck, row, time, signals));
            },
            cancellationToken);
        return (samples, rows);
    }

    // By name, as servers differ in which columns they put first.
    private (int Time, int[] Signals) Columns(CsvRow header)
    {
        var time = -1;
        var signals = new int[header.Count];
        for (var i = 0; i < signals.Length; i++)
        {
            var name = header[i].ToString();
            signals[i] = SignalInfo.Find(name) is { } signal ? (int)signal.Signal : -1;
            time = name == "time" ? i : time;
        }

        return time >= 0 ? (time, signals) : throw InfluxSentences.NotInflux(connection.Options, "its answer has no column 'time'");
    }

    private static Sample Parse(string truck, CsvRow row, int time, int[] signals)
    {
        var values = SignalValues.Empty;
        for (var i = 0; i < row.Count && i < signals.Length; i++)
        {
            if (signals[i] >= 0 && row[i].Length > 0)
            {
                values[signals[i]] = double.Parse(row[i], NumberStyles.Float, CultureInfo.InvariantCulture);
            }
        }

        return new Sample(truck, Instant(row[time]), values);
    }

    /// <summary>The instant in a cell, Unix ms; servers write it as a number or as text.</summary>
    public static long Instant(ReadOnlySpan<char> cell) => long.TryParse(cell, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var ms)
        ? ms
        : DateTimeOffset.Parse(cell, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal).ToUnixTimeMilliseconds();

    // Another program may have written the same instant with a tag more, which is a series of its own.
    private static void Add(List<Sample> samples, in Sample sample)
    {
        if (samples.Count > 0 && samples[^1].UnixMs == sample.UnixMs)
        {
            var merged = samples[^1].Values;
            merged.Merge(sample.Values);
            samples[^1] = sample with { Values = merged };
        }
        else if (!sample.Values.IsEmpty)
        {
            samples.Add(sample);
        }
    }
}
