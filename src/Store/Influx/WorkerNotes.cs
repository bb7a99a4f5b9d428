using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

// forwarder of folder A --samples--> server (measurement pump)
//        |                             ^
//        +--what of which truck-----> (measurement forwarded, tag worker) --PullAsync--> remote_truck of folder B --> analysis in B

/// <summary>
/// Tells the other workers that forward to the same server what was forwarded from here, and reads what they tell: each has a data folder of its own, where
/// alone it is known what changed since runs were last derived, and one of them must derive the runs of all.
/// </summary>
/// <remarks>
/// A note is one point, so that nobody reads half of it, under an instant that is later than that of the worker's note before: who reads asks each worker's
/// notes from the last one seen, and no clock of another machine is trusted. A note goes out after the samples are on the server; one that was lost on the
/// way is sent again under its own instant. Two folders must not go by one worker's name; a restored folder gets another.
/// </remarks>
/// <param name="connection">The server; the caller disposes it.</param>
/// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
/// <param name="worker">This worker's name, of this data folder alone.</param>
/// <param name="time">The clock.</param>
public sealed class WorkerNotes(InfluxConnection connection, SqliteDatabase database, string worker, TimeProvider time)
{
    /// <summary>The measurement of the notes.</summary>
    public const string Measurement = "forwarded";

    private const int PageRows = 2000;
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(5);

    private readonly PendingNotes pending = new(database);
    private long? lastSent;

    /// <summary>Tells what there is to tell, at most every few seconds: a note a batch would be more notes than anybody reads.</summary>
    /// <param name="now">Whether to tell it at once, as at the end of a copy.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="InfluxException">The server does not take the note now; it will be sent again.</exception>
    /// <exception cref="StoreUnavailableException">samples.db cannot be used now.</exception>
    public async Task SendAsync(bool now, CancellationToken cancellationToken)
    {
        if (!now && lastSent is { } last && time.GetElapsedTime(last) < Pause)
        {
            return;
        }

        while (await database.WriteAsync(() => pending.Next(time.GetUtcNow().ToUnixTimeMilliseconds()), cancellationToken) is var (atMs, trucks))
        {
            var line = new LineProtocol().Begin(Measurement).Tag("worker", worker).Field("trucks", trucks).End(atMs).ToString();
            await connection.WriteAsync(line, cancellationToken);
            await database.WriteAsync(() => pending.Sent(atMs), CancellationToken.None);
        }

        lastSent = time.GetTimestamp();
    }

    /// <summary>Reads what the other workers tell and takes it into account as if it had been forwarded from here.</summary>
    /// <returns>How many notes were new.</returns>
    /// <exception cref="InfluxException">The server cannot be read now; what has been read stays.</exception>
    /// <exception cref="StoreUnavailableException">samples.db cannot be used now.</exception>
    public async Task<int> PullAsync(CancellationToken cancellationToken)
    {
        var notes = 0;
        foreach (var other in await WorkersAsync(cancellationToken))
        {
            int page;
            do
            {
                var read = await PageAsync(other, Seen(other), cancellationToken);
                page = read.Count;
                notes += page;
                if (page > 0)
                {
                    await database.WriteAsync(() => database.Change(t => TakeIn(t, other, read)), cancellationToken);
                }
            }
            while (page == PageRows);
        }

        return notes;
    }

    private async Task<List<string>> WorkersAsync(CancellationToken cancellationToken)
    {
        var workers = new List<string>();
        var value = -1;
        await connection.QueryAsync(
            $"SHOW TAG VALUES FROM {InfluxQl.Identifier(Measurement)} WITH KEY = \"worker\"",
            row =>
            {
                if (row.IsHeader)
                {
                    value = Column(row, "value");
                }
                else if (row[value].ToString() is var name && name != worker)
                {
                    workers.Add(name);
                }
            },
            cancellationToken);
        return workers;
    }

    private async Task<List<(long AtMs, List<ForwardedTruck> Trucks)>> PageAsync(string other, long seenMs, CancellationToken cancellationToken)
    {
        var notes = new List<(long, List<ForwardedTruck>)>();
        int at = -1, trucks = -1;
        await connection.QueryAsync(
            string.Create(
                CultureInfo.InvariantCulture,
                $"SELECT \"trucks\" FROM {InfluxQl.Identifier(Measurement)} WHERE \"worker\" = {InfluxQl.Text(other)} AND time > {InfluxQl.Instant(seenMs)} ORDER BY time LIMIT {PageRows}"),
            row =>
            {
                if (row.IsHeader)
                {
                    (at, trucks) = (Column(row, "time"), Column(row, "trucks"));
                    return;
                }

                notes.Add((InfluxReader.Instant(row[at]), Parse(row[trucks])));
            },
            cancellationToken);
        return notes;
    }

    // What somebody else wrote there is no reason to stop reading the rest.
    private static List<ForwardedTruck> Parse(ReadOnlySpan<char> json)
    {
        try
        {
            return JsonSerializer.Deserialize(json, NotesJson.Default.ListForwardedTruck) ?? [];
        }
        catch (JsonException)
        {
            return [];
        }
    }

    private int Column(CsvRow header, string name)
    {
        for (var i = 0; i < header.Count; i++)
        {
            if (header[i].SequenceEqual(name))
            {
                return i;
            }
        }

        throw InfluxSentences.NotInflux(connection.Options, $"its answer has no column '{name}'");
    }

    private static bool TakeIn(SqliteTransaction transaction, string other, List<(long AtMs, List<ForwardedTruck> Trucks)> notes)
    {
        foreach (var truck in notes.SelectMany(n => n.Trucks).Where(t => !string.IsNullOrEmpty(t.Truck) && t.FirstMs <= t.LastMs))
        {
            TruckTable.Remote.Update(
                transaction, TruckTable.Remote.FindOrAdd(transaction, truck.Truck), Math.Max(0, truck.Added), (truck.FirstMs, truck.LastMs), truck.TouchedMs);
        }

        transaction.Execute(
            "INSERT INTO other_worker(worker, seen_ms) VALUES($worker, $seen) ON CONFLICT DO UPDATE SET seen_ms=max(seen_ms, $seen)",
            ("$worker", other),
            ("$seen", notes[^1].AtMs));
        return true;
    }

    private long Seen(string other) => database.Read(c =>
    {
        using var command = c.Command("SELECT seen_ms FROM other_worker WHERE worker=$worker", ("$worker", other));
        return command.ExecuteScalar() is long seen ? seen : 0;
    });
}
