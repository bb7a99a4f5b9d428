using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// What is known of each truck's samples, wherever those are kept: how many, from when to when, and what changed since its runs were last derived. There are two
/// such tables of the same shape, one for the samples in this database and one for those on a server.
/// </summary>
internal sealed class TruckTable
{
    private readonly string table;
    private readonly string update;

    private TruckTable(string table)
    {
        this.table = table;

        // min() and max() of several arguments are NULL where one is; coalesce then takes the one that is there. A truck whose samples were
        // all deleted still holds the last instant it had, which bounds nothing.
        update = $"""
            UPDATE {table} SET
                samples = samples + $added,
                first_ms = CASE samples WHEN 0 THEN $first ELSE coalesce(min(first_ms, $first), first_ms) END,
                last_ms = CASE samples WHEN 0 THEN $last ELSE coalesce(max(last_ms, $last), last_ms) END,
                revision = revision + ($touched IS NOT NULL),
                touched_ms = coalesce(min(touched_ms, $touched), $touched, touched_ms)
            WHERE id = $id
            """;
    }

    /// <summary>Of the samples in the table sample.</summary>
    public static TruckTable Local { get; } = new("truck");

    /// <summary>Of the samples on a server.</summary>
    public static TruckTable Remote { get; } = new("remote_truck");

    /// <summary>The number a truck goes by, given to it where it has none.</summary>
    public long FindOrAdd(SqliteTransaction transaction, string truck)
    {
        transaction.Execute($"INSERT INTO {table}(truck) VALUES($truck) ON CONFLICT DO NOTHING", ("$truck", truck));
        using var command = transaction.Command($"SELECT id FROM {table} WHERE truck=$truck", ("$truck", truck));
        return (long)command.ExecuteScalar()!;
    }

    /// <summary>Takes a change of a truck's samples into account.</summary>
    /// <param name="transaction">The transaction of the change.</param>
    /// <param name="id">The truck's number.</param>
    /// <param name="added">Samples that are new.</param>
    /// <param name="span">First and last instant of those, Unix ms; null where none is new.</param>
    /// <param name="touchedMs">The earliest instant that changed, Unix ms; null where none did, or where that has been noted before.</param>
    public void Update(SqliteTransaction transaction, long id, long added, (long FirstMs, long LastMs)? span, long? touchedMs) => transaction.Execute(
        update, ("$id", id), ("$added", added), ("$first", span?.FirstMs), ("$last", span?.LastMs), ("$touched", touchedMs));

    /// <summary>What is stored of each truck, in order of the trucks' ids (ordinal).</summary>
    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(SqliteDatabase database, CancellationToken cancellationToken) => ReadAsync(
        database,
        $"SELECT truck, samples, first_ms, last_ms, kept_from_ms FROM {table} WHERE last_ms IS NOT NULL",
        r => new TruckExtent(r.GetString(0), r.GetInt64(1), r.GetInt64(2), r.GetInt64(3)) { KeptFromMs = r.IsDBNull(4) ? long.MinValue : r.GetInt64(4) },
        e => e.Truck,
        cancellationToken);

    /// <summary>The trucks that changed, in order of their ids (ordinal).</summary>
    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(SqliteDatabase database, CancellationToken cancellationToken) => ReadAsync(
        database,
        $"SELECT truck, touched_ms, revision FROM {table} WHERE touched_ms IS NOT NULL",
        r => new TouchedTruck(r.GetString(0), r.GetInt64(1), r.GetInt64(2)),
        t => t.Truck,
        cancellationToken);

    /// <summary>Forgets a change unless it was renewed.</summary>
    public Task SettleAsync(SqliteDatabase database, TouchedTruck touched, CancellationToken cancellationToken) => database.WriteAsync(
        () => database.Change(t => t.Execute(
            $"UPDATE {table} SET touched_ms=NULL WHERE truck=$truck AND revision=$revision", ("$truck", touched.Truck), ("$revision", touched.Revision))),
        cancellationToken);

    private static Task<IReadOnlyList<T>> ReadAsync<T>(
        SqliteDatabase database, string sql, Func<SqliteDataReader, T> row, Func<T, string> truck, CancellationToken cancellationToken) => Task.Run(
        () => database.Read<IReadOnlyList<T>>(connection =>
        {
            using var command = connection.Command(sql);
            using var reader = command.ExecuteReader();
            var rows = new List<T>();
            while (reader.Read())
            {
                rows.Add(row(reader));
            }

            // SQLite orders by UTF-8 bytes, ordinal is by UTF-16 units.
            rows.Sort((a, b) => string.CompareOrdinal(truck(a), truck(b)));
            return rows;
        }),
        cancellationToken);
}
