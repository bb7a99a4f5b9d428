using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>Points in the order in which they are sent: by truck (ordinal), then by time, each instant once. The same samples give the same points, always.</summary>
internal static class RemotePoints
{
    /// <summary>Puts a batch in order.</summary>
    public static List<Sample> Of(SampleBatch batch)
    {
        var points = new List<Sample>();
        foreach (var truck in batch.Trucks.Order(StringComparer.Ordinal))
        {
            foreach (var (atMs, values) in batch.Of(truck))
            {
                points.Add(new Sample(truck, atMs, values));
            }
        }

        return points;
    }

    /// <summary>Notes what is about to change, before it is sent: were the process to die in between, runs would be derived again for nothing, which does no harm.</summary>
    public static void Touch(SqliteTransaction transaction, IReadOnlyList<Sample> points, SampleChange[] changes)
    {
        foreach (var (id, _, _, touched) in Sum(transaction, points, changes, []))
        {
            if (touched is not null)
            {
                TruckTable.Remote.Update(transaction, id, 0, null, touched);
            }
        }
    }

    /// <summary>Takes into account what has been written.</summary>
    /// <param name="transaction">The transaction.</param>
    /// <param name="points">All points that were sent.</param>
    /// <param name="changes">What each of them changes.</param>
    /// <param name="refused">Those that the server did not take.</param>
    public static void Count(SqliteTransaction transaction, IReadOnlyList<Sample> points, SampleChange[] changes, IReadOnlyList<RefusedPoint> refused)
    {
        foreach (var (id, added, span, touched) in Sum(transaction, points, changes, refused.Select(r => r.Index).ToHashSet()))
        {
            TruckTable.Remote.Update(transaction, id, added, span, touched);
            if (span is { } s && (added > 0 || touched is not null))
            {
                PendingNotes.Add(transaction, id, added, s.First, s.Last, touched);
            }
        }
    }

    // The span is that of all points there are: a point that was there before lies within it anyway.
    private static List<(long Id, long Added, (long First, long Last)? Span, long? Touched)> Sum(
        SqliteTransaction transaction, IReadOnlyList<Sample> points, SampleChange[] changes, HashSet<int> without)
    {
        var sums = new List<(long, long, (long, long)?, long?)>();
        for (var from = 0; from < points.Count;)
        {
            var truck = points[from].Truck;
            long added = 0;
            (long First, long Last)? span = null;
            long? touched = null;
            for (; from < points.Count && points[from].Truck == truck; from++)
            {
                if (without.Contains(from))
                {
                    continue;
                }

                var at = points[from].UnixMs;
                span = (span?.First ?? at, at);
                added += changes[from] == SampleChange.Added ? 1 : 0;
                touched ??= changes[from] == SampleChange.None ? null : at;
            }

            if (span is not null)
            {
                sums.Add((TruckTable.Remote.FindOrAdd(transaction, truck), added, span, touched));
            }
        }

        return sums;
    }
}
