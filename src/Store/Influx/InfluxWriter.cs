using System.Globalization;
using Vanehour.Fleet;

namespace Vanehour.Store.Influx;

/// <summary>
/// Writes points in requests of a bounded number of lines. A request that the server calls wrong (400, 422) or too long (413) is split until the points that
/// are to blame stand alone; writing the good ones again on the way does no harm, because a point overwrites itself.
/// </summary>
/// <remarks>Not for use by several threads at once.</remarks>
internal sealed class InfluxWriter(InfluxConnection connection)
{
    // When so many points in a row are refused with none accepted in between it is not the points: a field of another type, a wrong setting. Invented.
    private const int RefusedInARow = 50;

    private int refusedInARow;

    /// <summary>Writes the points.</summary>
    /// <returns>The points that were refused; all others are written.</returns>
    /// <exception cref="InfluxException">They could not be written now, or the server refuses every single one; some may be written.</exception>
    public async Task<IReadOnlyList<RefusedPoint>> WriteAsync(IReadOnlyList<Sample> points, CancellationToken cancellationToken)
    {
        var refused = new List<RefusedPoint>();
        for (var from = 0; from < points.Count; from += connection.Options.BatchLines)
        {
            var count = Math.Min(connection.Options.BatchLines, points.Count - from);
            await WriteAsync(points, from, count, refused, cancellationToken);
        }

        return refused;
    }

    private async Task WriteAsync(IReadOnlyList<Sample> points, int from, int count, List<RefusedPoint> refused, CancellationToken cancellationToken)
    {
        var lines = Lines(points, from, count);
        try
        {
            await connection.WriteAsync(lines, cancellationToken);
            refusedInARow = 0;
        }
        catch (InfluxException e) when (e.Failure is InfluxFailure.BadData or InfluxFailure.TooLarge)
        {
            if (count > 1)
            {
                var half = count / 2;
                await WriteAsync(points, from, half, refused, cancellationToken);
                await WriteAsync(points, from + half, count - half, refused, cancellationToken);
                return;
            }

            if (refusedInARow >= RefusedInARow)
            {
                throw EverythingRefused(e);
            }

            refusedInARow++;
            refused.Add(new RefusedPoint(from, lines.TrimEnd('\n'), string.Create(CultureInfo.InvariantCulture, $"{e.Status}: {e.ServerMessage}")));
        }
    }

    private InfluxException EverythingRefused(InfluxException last) => new(
        InfluxFailure.NeedsPerson,
        $"InfluxDB at {connection.Options.Root} refuses every sample ({last.Status}: {last.ServerMessage}), so nothing more is thrown away; "
        + $"check whether the measurement '{connection.Options.Measurement}' in '{connection.Options.Bucket}' holds fields of another kind, and the settings.",
        last)
    {
        Status = last.Status,
        ServerMessage = last.ServerMessage,
    };

    private string Lines(IReadOnlyList<Sample> points, int from, int count)
    {
        var lines = new LineProtocol();
        for (var i = from; i < from + count; i++)
        {
            lines.Sample(connection.Options.Measurement, points[i]);
        }

        return lines.ToString();
    }
}
