using Vanehour.Fleet;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>
/// Finds out what writing points will change, by reading what is stored at their instants. Points later than everything the truck has need no look, and that is
/// nearly all of them: only late data and redeliveries cost a read.
/// </summary>
internal sealed class ChangeFinder(InfluxReader reader)
{
    // Instants farther apart than this are looked up by themselves rather than with all that lies between. Invented.
    private const long FarApartMs = 3_600_000;

    // So that an upload that is scattered over a year does not ask for each of its samples.
    private const int MostStretches = 16;

    /// <summary>What each point changes.</summary>
    /// <param name="points">In order of truck, then time.</param>
    /// <param name="lastMs">The latest instant stored of each truck that has any.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="InfluxException">What is stored cannot be read now.</exception>
    public async Task<SampleChange[]> FindAsync(
        IReadOnlyList<Sample> points, IReadOnlyDictionary<string, long> lastMs, CancellationToken cancellationToken)
    {
        var changes = new SampleChange[points.Count];
        Array.Fill(changes, SampleChange.Added);
        for (var from = 0; from < points.Count;)
        {
            var truck = points[from].Truck;
            var to = from;
            while (to < points.Count && points[to].Truck == truck)
            {
                to++;
            }

            if (lastMs.TryGetValue(truck, out var last))
            {
                var known = from;
                while (known < to && points[known].UnixMs <= last)
                {
                    known++;
                }

                await CompareAsync(points, from, known, changes, cancellationToken);
            }

            from = to;
        }

        return changes;
    }

    private static List<(int From, int To)> Stretches(IReadOnlyList<Sample> points, int from, int to)
    {
        var cuts = Enumerable.Range(from + 1, Math.Max(0, to - from - 1))
            .Select(i => (At: i, Gap: points[i].UnixMs - points[i - 1].UnixMs))
            .Where(c => c.Gap > FarApartMs)
            .OrderByDescending(c => c.Gap)
            .Take(MostStretches - 1)
            .Select(c => c.At)
            .Order()
            .Append(to);
        var stretches = new List<(int, int)>();
        foreach (var cut in cuts)
        {
            stretches.Add((from, cut));
            from = cut;
        }

        return stretches;
    }

    private async Task CompareAsync(IReadOnlyList<Sample> points, int from, int to, SampleChange[] changes, CancellationToken cancellationToken)
    {
        foreach (var (first, end) in from < to ? Stretches(points, from, to) : [])
        {
            var i = first;
            await foreach (var stored in reader.ReadAsync(points[first].Truck, points[first].UnixMs, points[end - 1].UnixMs + 1, cancellationToken))
            {
                while (i < end && points[i].UnixMs < stored.UnixMs)
                {
                    i++;
                }

                if (i < end && points[i].UnixMs == stored.UnixMs)
                {
                    var merged = stored.Values;
                    merged.Merge(points[i].Values);
                    changes[i] = stored with { Values = merged } == stored ? SampleChange.None : SampleChange.Changed;
                }
            }
        }
    }
}
