using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Outbox;

/// <summary>The outbox's rows: read from the front, and taken away when they are on the server.</summary>
internal sealed class OutboxRows(SqliteDatabase database)
{
    private static readonly string Front =
        $"SELECT o.seq, t.truck, o.at_ms, {string.Join(", ", SignalInfo.All.Select(s => "o." + s.Name))} FROM outbox o JOIN remote_truck t ON t.id = o.truck_id "
        + "WHERE o.seq <= $last ORDER BY o.seq LIMIT $limit";

    /// <summary>The rows at the front, in the order of arrival; those that were sent once and whose end is not known come as they were sent.</summary>
    public OutboxFront Read(int limit) => database.Read(connection =>
    {
        // One transaction: both statements see one state.
        using var transaction = connection.BeginTransaction(deferred: true);
        var (lastSent, changes) = Sent(transaction);
        using var command = transaction.Command(Front, ("$last", lastSent ?? long.MaxValue), ("$limit", lastSent is null ? limit : -1));
        using var reader = command.ExecuteReader();
        var samples = new List<Sample>();
        long lastSeq = 0;
        while (reader.Read())
        {
            SignalValues values = default;
            for (var i = 0; i < SignalInfo.Count; i++)
            {
                values[i] = reader.IsDBNull(i + 3) ? double.NaN : reader.GetDouble(i + 3);
            }

            lastSeq = reader.GetInt64(0);
            samples.Add(new Sample(reader.GetString(1), reader.GetInt64(2), values));
        }

        return new OutboxFront(lastSeq, samples, changes);
    });

    /// <summary>Notes what was found out about the rows up to <paramref name="lastSeq"/>, before they are sent.</summary>
    public Task SendingAsync(long lastSeq, SampleChange[] changes, CancellationToken cancellationToken) => database.WriteAsync(
        () => database.Change(t => t.Execute(
            "INSERT INTO forwarding(one, last_seq, changes) VALUES(1, $last, $changes) ON CONFLICT DO UPDATE SET last_seq=$last, changes=$changes",
            ("$last", lastSeq),
            ("$changes", Array.ConvertAll(changes, c => (byte)c)))),
        cancellationToken);

    /// <summary>Takes away the rows up to <paramref name="lastSeq"/> and accounts for them, in one transaction.</summary>
    public Task SentAsync(long lastSeq, IReadOnlyList<Sample> points, SampleChange[] changes, IReadOnlyList<RefusedPoint> refused) => database.WriteAsync(
        () => database.Change(transaction =>
        {
            RemotePoints.Count(transaction, points, changes, refused);
            transaction.Execute("DELETE FROM forwarding");
            return transaction.Execute("DELETE FROM outbox WHERE seq <= $last", ("$last", lastSeq));
        }),
        CancellationToken.None);

    /// <summary>How much waits, and since when.</summary>
    public ForwardingBacklog Backlog() => database.Read(connection =>
    {
        // Each of them looks at one end of the table only.
        using var command = connection.Command(
            "SELECT (SELECT max(seq) FROM outbox) - (SELECT min(seq) FROM outbox) + 1, (SELECT arrived_ms FROM outbox ORDER BY seq LIMIT 1)");
        using var reader = command.ExecuteReader();
        return reader.Read() && !reader.IsDBNull(0)
            ? new ForwardingBacklog(reader.GetInt64(0), DateTimeOffset.FromUnixTimeMilliseconds(reader.GetInt64(1)))
            : ForwardingBacklog.None;
    });

    /// <summary>The earliest instant of each truck that waits. Looks at every row.</summary>
    public IReadOnlyDictionary<string, long> OldestByTruck() => database.Read(connection =>
    {
        using var command = connection.Command(
            "SELECT t.truck, o.at_ms FROM (SELECT truck_id, min(at_ms) AS at_ms FROM outbox GROUP BY truck_id) o JOIN remote_truck t ON t.id = o.truck_id");
        using var reader = command.ExecuteReader();
        var oldest = new Dictionary<string, long>(StringComparer.Ordinal);
        while (reader.Read())
        {
            oldest.Add(reader.GetString(0), reader.GetInt64(1));
        }

        return oldest;
    });

    private static (long? LastSeq, SampleChange[]? Changes) Sent(SqliteTransaction transaction)
    {
        using var command = transaction.Command("SELECT last_seq, changes FROM forwarding");
        using var reader = command.ExecuteReader();
        return reader.Read() ? (reader.GetInt64(0), Array.ConvertAll(reader.GetFieldValue<byte[]>(1), b => (SampleChange)b)) : (null, null);
    }
}
