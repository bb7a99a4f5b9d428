using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>What was forwarded from this folder and other workers have not been told yet; kept in samples.db.</summary>
internal sealed class PendingNotes(SqliteDatabase database)
{
    // A text field of an InfluxDB holds 64 KiB; a truck takes about a hundred bytes.
    private const int MostTrucks = 300;

    /// <summary>Adds what has just been accounted for, in the same transaction.</summary>
    public static void Add(SqliteTransaction transaction, long truckId, long added, long firstMs, long lastMs, long? touchedMs) => transaction.Execute(
        """
        INSERT INTO note_pending(truck_id, added, first_ms, last_ms, touched_ms) VALUES($id, $added, $first, $last, $touched)
        ON CONFLICT DO UPDATE SET
            added = added + $added,
            first_ms = min(first_ms, $first),
            last_ms = max(last_ms, $last),
            touched_ms = coalesce(min(touched_ms, $touched), $touched, touched_ms)
        """,
        ("$id", truckId),
        ("$added", added),
        ("$first", firstMs),
        ("$last", lastMs),
        ("$touched", touchedMs));

    /// <summary>The note to send next, the one under way first; null where there is nothing to tell. It stays under way until it is <see cref="Sent"/>.</summary>
    /// <param name="nowMs">The clock, Unix ms; the note's own instant is later than that of every note before.</param>
    public (long AtMs, string Trucks)? Next(long nowMs) => database.Change<(long, string)?>(transaction =>
    {
        if (Sending(transaction) is { } underWay)
        {
            return underWay;
        }

        var ids = new List<long>();
        var trucks = new List<ForwardedTruck>();
        using (var command = transaction.Command(
            "SELECT n.truck_id, t.truck, n.added, n.first_ms, n.last_ms, n.touched_ms FROM note_pending n JOIN remote_truck t ON t.id = n.truck_id ORDER BY n.truck_id LIMIT $most",
            ("$most", MostTrucks)))
        using (var reader = command.ExecuteReader())
        {
            while (reader.Read())
            {
                ids.Add(reader.GetInt64(0));
                trucks.Add(new ForwardedTruck(
                    reader.GetString(1), reader.GetInt64(2), reader.GetInt64(3), reader.GetInt64(4), reader.IsDBNull(5) ? null : reader.GetInt64(5)));
            }
        }

        if (ids.Count == 0)
        {
            return null;
        }

        foreach (var id in ids)
        {
            transaction.Execute("DELETE FROM note_pending WHERE truck_id=$id", ("$id", id));
        }

        transaction.Execute(
            "INSERT INTO note_last(one, at_ms) VALUES(1, $now) ON CONFLICT DO UPDATE SET at_ms=max(at_ms + 1, $now)", ("$now", nowMs));
        transaction.Execute(
            "INSERT INTO note_sending(at_ms, trucks) SELECT at_ms, $trucks FROM note_last",
            ("$trucks", JsonSerializer.Serialize(trucks, NotesJson.Default.ListForwardedTruck)));
        return Sending(transaction);
    });

    /// <summary>The server has the note.</summary>
    public int Sent(long atMs) => database.Change(t => t.Execute("DELETE FROM note_sending WHERE at_ms=$at", ("$at", atMs)));

    private static (long, string)? Sending(SqliteTransaction transaction)
    {
        using var command = transaction.Command("SELECT at_ms, trucks FROM note_sending ORDER BY at_ms LIMIT 1");
        using var reader = command.ExecuteReader();
        return reader.Read() ? (reader.GetInt64(0), reader.GetString(1)) : null;
    }
}
