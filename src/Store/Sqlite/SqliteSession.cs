using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Sqlite;

/// <summary>Short pieces of work on a database, each on a pooled connection of its own; outages surface as <see cref="StoreUnavailableException"/>.</summary>
internal static class SqliteSession
{
    /// <summary>Runs <paramref name="work"/>, which reads with a single statement (and so sees one state of the database).</summary>
    public static T Read<T>(this SqliteDatabase database, Func<SqliteConnection, T> work)
    {
        try
        {
            using var connection = database.Connect();
            return work(connection);
        }
        catch (SqliteException e) when (SqliteOutage.Is(e))
        {
            throw SqliteOutage.Explain(database, e);
        }
    }

    /// <summary>Runs <paramref name="work"/> in one transaction that has the write lock from its start; it is committed when the work returns.</summary>
    public static T Change<T>(this SqliteDatabase database, Func<SqliteTransaction, T> work)
    {
        try
        {
            using var connection = database.Connect();
            using var transaction = connection.BeginTransaction(deferred: false);
            var result = work(transaction);
            transaction.Commit();
            return result;
        }
        catch (SqliteException e) when (SqliteOutage.Is(e))
        {
            throw SqliteOutage.Explain(database, e);
        }
    }

    /// <summary>A command of <paramref name="transaction"/> with parameters.</summary>
    public static SqliteCommand Command(this SqliteTransaction transaction, string sql, params ReadOnlySpan<(string Name, object? Value)> parameters)
    {
        var command = transaction.Connection!.Command(sql, parameters);
        command.Transaction = transaction;
        return command;
    }

    /// <summary>A command with parameters; a null value is SQL's NULL.</summary>
    public static SqliteCommand Command(this SqliteConnection connection, string sql, params ReadOnlySpan<(string Name, object? Value)> parameters)
    {
        var command = connection.CreateCommand();
#pragma warning disable CA2100 // Callers pass constant statements; whatever comes from outside is a parameter.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in parameters)
        {
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        }

        return command;
    }

    /// <summary>Runs a statement of <paramref name="transaction"/> and says how many rows it changed.</summary>
    public static int Execute(this SqliteTransaction transaction, string sql, params ReadOnlySpan<(string Name, object? Value)> parameters)
    {
        using var command = transaction.Command(sql, parameters);
        return command.ExecuteNonQuery();
    }
}
