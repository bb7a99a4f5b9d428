using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

/// <summary>Plain SQL on a database, past the stores.</summary>
internal static class DatabaseSteps
{
    public static object? Run(this SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The tests' own constants.
        command.CommandText = sql;
#pragma warning restore CA2100
        return command.ExecuteScalar();
    }

    public static object? Run(this SqliteDatabase database, string sql)
    {
        using var connection = database.Connect();
        return connection.Run(sql);
    }

    public static object? RunOn(string path, string sql)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Pooling = false }.ToString());
        connection.Open();
        return connection.Run(sql);
    }
}
