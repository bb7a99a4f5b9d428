using Microsoft.Data.Sqlite;
using SQLitePCL;
using Vanehour.Fleet;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// The prepared statements that put one sample. They are bound through SQLite's own interface: parameter objects would box every value and
/// refuse NaN, which marks a signal not sent and which SQLite itself binds as NULL.
/// </summary>
internal sealed class SampleStatements : IDisposable
{
    private readonly sqlite3 handle;
    private readonly sqlite3_stmt insert;
    private readonly sqlite3_stmt update;

    /// <summary>Prepares the statements on <paramref name="connection"/>, which must outlive them.</summary>
    public SampleStatements(SqliteConnection connection)
    {
        handle = connection.Handle!;
        insert = Prepare(SampleSql.Insert);
        update = Prepare(SampleSql.Update);
    }

    /// <summary>Adds the sample or merges it into the one of its key.</summary>
    public SampleChange Put(long truckId, long atMs, in SignalValues values)
    {
        if (Run(insert, truckId, atMs, values) > 0)
        {
            return SampleChange.Added;
        }

        return Run(update, truckId, atMs, values) > 0 ? SampleChange.Changed : SampleChange.None;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        insert.Dispose();
        update.Dispose();
    }

    private sqlite3_stmt Prepare(string sql)
    {
        Check(raw.sqlite3_prepare_v3(handle, sql, raw.SQLITE_PREPARE_PERSISTENT, out var statement));
        return statement;
    }

    private int Run(sqlite3_stmt statement, long truckId, long atMs, in SignalValues values)
    {
        Check(raw.sqlite3_bind_int64(statement, 1, truckId));
        Check(raw.sqlite3_bind_int64(statement, 2, atMs));
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            Check(raw.sqlite3_bind_double(statement, i + 3, values[i]));
        }

        var code = raw.sqlite3_step(statement);
        if (code != raw.SQLITE_DONE)
        {
            // The exception takes its text from the connection, which a reset may change.
            try
            {
                Check(code);
            }
            finally
            {
                _ = raw.sqlite3_reset(statement);
            }
        }

        Check(raw.sqlite3_reset(statement));
        return raw.sqlite3_changes(handle);
    }

    private void Check(int code)
    {
        if (code != raw.SQLITE_OK)
        {
            SqliteException.ThrowExceptionForRC(code, handle);
        }
    }
}
