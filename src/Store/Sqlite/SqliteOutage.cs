using Microsoft.Data.Sqlite;
using SQLitePCL;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Sqlite;

/// <summary>Tells an SQLite error of the environment (locked, full, disk) from one of the program (a wrong statement), which must surface as it is.</summary>
internal static class SqliteOutage
{
    /// <summary>Whether trying again later, or after a person has acted, can help.</summary>
    public static bool Is(SqliteException error) => error.SqliteErrorCode is not (
        raw.SQLITE_ERROR or raw.SQLITE_CONSTRAINT or raw.SQLITE_MISMATCH or raw.SQLITE_MISUSE or raw.SQLITE_RANGE or raw.SQLITE_TOOBIG);

    /// <summary>The exception a store's caller gets, with one plain sentence.</summary>
    public static StoreUnavailableException Explain(SqliteDatabase database, SqliteException error) =>
        new(SqliteDatabase.Explain(database.Path, error).Message, error);
}
