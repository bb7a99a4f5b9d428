using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>
/// Compares what is known here of the trucks on a server with what the server has: it may have held years of samples before this folder knew it, and its own
/// retention cuts without telling.
/// </summary>
/// <param name="connection">The server; the caller disposes it.</param>
/// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
public sealed class ServerExtents(InfluxConnection connection, SqliteDatabase database)
{
    private static readonly string Fields = string.Join(", ", SignalInfo.All.Select(s => InfluxQl.Identifier(s.Name)));

    /// <summary>
    /// Takes into account trucks and instants that nobody told of, which are then derived, and cuts: runs from before a cut stand as they are.
    /// </summary>
    /// <exception cref="InfluxException">The server cannot be read now.</exception>
    /// <exception cref="StoreUnavailableException">samples.db cannot be used now.</exception>
    public async Task ReconcileAsync(CancellationToken cancellationToken)
    {
        var first = await EndsAsync("ASC", cancellationToken);
        var last = await EndsAsync("DESC", cancellationToken);
        var known = (await TruckTable.Remote.TrucksAsync(database, cancellationToken)).ToDictionary(e => e.Truck, StringComparer.Ordinal);
        foreach (var (truck, firstMs) in first.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            var lastMs = last.GetValueOrDefault(truck, firstMs);
            if (!known.TryGetValue(truck, out var here))
            {
                await TakeInAsync(truck, await CountAsync(truck, cancellationToken), firstMs, lastMs, firstMs, cancellationToken);
            }
            else
            {
                // Earlier than known: derive all of it. Later than known: from there on.
                long? touched = firstMs < here.FirstMs && firstMs >= here.KeptFromMs ? firstMs : lastMs > here.LastMs ? here.LastMs + 1 : null;
                if (touched is { } from)
                {
                    await TakeInAsync(truck, 0, Math.Min(firstMs, here.FirstMs), Math.Max(lastMs, here.LastMs), from, cancellationToken);
                }

                if (firstMs > here.FirstMs && firstMs > here.KeptFromMs)
                {
                    await database.WriteAsync(
                        () => database.Change(t => t.Execute(
                            "UPDATE remote_truck SET kept_from_ms=$from WHERE truck=$truck AND (kept_from_ms IS NULL OR kept_from_ms < $from)",
                            ("$from", firstMs),
                            ("$truck", truck))),
                        cancellationToken);
                }
            }
        }
    }

    private Task<int> TakeInAsync(string truck, long added, long firstMs, long lastMs, long touchedMs, CancellationToken cancellationToken) => database.WriteAsync(
        () => database.Change(t =>
        {
            TruckTable.Remote.Update(t, TruckTable.Remote.FindOrAdd(t, truck), added, (firstMs, lastMs), touchedMs);
            return 0;
        }),
        cancellationToken);

    // The first or the last instant of every truck.
    private async Task<Dictionary<string, long>> EndsAsync(string order, CancellationToken cancellationToken)
    {
        const string label = "truck=";
        var ends = new Dictionary<string, long>(StringComparer.Ordinal);
        int time = -1, tags = -1, plain = -1;
        await connection.QueryAsync(
            $"SELECT {Fields} FROM {InfluxQl.Identifier(connection.Options.Measurement)} GROUP BY \"truck\" ORDER BY time {order} LIMIT 1",
            row =>
            {
                if (row.IsHeader)
                {
                    for (var i = 0; i < row.Count; i++)
                    {
                        time = row[i].SequenceEqual("time") ? i : time;
                        tags = row[i].SequenceEqual("tags") ? i : tags;
                        plain = row[i].SequenceEqual("truck") ? i : plain;
                    }

                    return;
                }

                // InfluxDB 1 and 2 put the tag into a column of all tags; one of its own is taken as well.
                var tag = tags >= 0 && row[tags].StartsWith(label) ? row[tags][label.Length..] : plain >= 0 ? row[plain] : default;
                if (time >= 0 && tag.Length > 0)
                {
                    // Bytes that an id may not hold stand in a tag as %XX; see InfluxName.
                    ends[Uri.UnescapeDataString(tag)] = InfluxReader.Instant(row[time]);
                }
            },
            cancellationToken);
        return ends;
    }

    // Instants are not counted by the server; the field that most samples carry comes near from below.
    private async Task<long> CountAsync(string truck, CancellationToken cancellationToken)
    {
        long count = 0;
        var isCount = Array.Empty<bool>();
        await connection.QueryAsync(
            $"SELECT count(*) FROM {InfluxQl.Identifier(connection.Options.Measurement)} WHERE \"truck\" = {InfluxQl.Text(InfluxName.ToTag(truck))}",
            row =>
            {
                if (row.IsHeader)
                {
                    isCount = new bool[row.Count];
                    for (var i = 0; i < row.Count; i++)
                    {
                        isCount[i] = row[i].StartsWith("count_");
                    }

                    return;
                }

                for (var i = 0; i < row.Count && i < isCount.Length; i++)
                {
                    if (isCount[i] && long.TryParse(row[i], NumberStyles.None, CultureInfo.InvariantCulture, out var n))
                    {
                        count = Math.Max(count, n);
                    }
                }
            },
            cancellationToken);
        return count;
    }
}
