using Microsoft.Data.Sqlite;
using SQLitePCL;
using Vanehour.Fleet;

namespace Vanehour.Store.Sqlite;

/// <summary>The prepared statement that adds a sample to the outbox, bound as <see cref="SampleStatements"/> is and for the same reasons.</summary>
internal sealed class OutboxStatements : IDisposable
{
    private static readonly string Insert =
        $"INSERT INTO outbox(truck_id, at_ms, arrived_ms, {SampleSql.Columns}) VALUES(?1, ?2, ?3, {string.Join(", ", SignalInfo.All.Select((_, i) => $"?{i + 4}"))})";

    private readonly sqlite3 handle;
    private readonly sqlite3_stmt insert;

    /// <summary>Prepares the statement on <paramref name="connection"/>, which must outlive it.</summary>
    public OutboxStatements(SqliteConnection connection)
    {
        handle = connection.Handle!;
        Check(raw.sqlite3_prepare_v3(handle, Insert, raw.SQLITE_PREPARE_PERSISTENT, out insert));
    }

    /// <summary>Adds a sample at the end.</summary>
    public void Add(long truckId, long atMs, long arrivedMs, in SignalValues values)
    {
        Check(raw.sqlite3_bind_int64(insert, 1, truckId));
        Check(raw.sqlite3_bind_int64(insert, 2, atMs));
        Check(raw.sqlite3_bind_int64(insert, 3, arrivedMs));
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            Check(raw.sqlite3_bind_double(insert, i + 4, values[i]));
        }

        var code = raw.sqlite3_step(insert);
        if (code != raw.SQLITE_DONE)
        {
            // The exception takes its text from the connection, which a reset may change.
            try
            {
                Check(code);
            }
            finally
            {
                _ = raw.sqlite3_reset(insert);
            }
        }

        Check(raw.sqlite3_reset(insert));
    }

    /// <inheritdoc/>
    public void Dispose() => insert.Dispose();

    private void Check(int code)
    {
        if (code != raw.SQLITE_OK)
        {
            SqliteException.ThrowExceptionForRC(code, handle);
        }
    }
}
