using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Host.Moving;

/// <summary>Looks at a database file that no other program uses, without changing it.</summary>
internal sealed class DatabaseFile : IDisposable
{
    private readonly SqliteConnection connection;

    /// <exception cref="SqliteException">It cannot be opened.</exception>
    public DatabaseFile(string path)
    {
        connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString());
        connection.Open();
    }

    /// <summary>SQLite's application_id, which marks the file as ours.</summary>
    public long ApplicationId => Number("PRAGMA application_id");

    /// <summary>The schema's version.</summary>
    public long SchemaVersion => Number("PRAGMA user_version");

    /// <summary>The SHA-256 of a file's bytes, hexadecimal.</summary>
    public static string Sha256(string path)
    {
        using var content = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(content));
    }

    /// <summary>Describes a file of a backup; a database with its version and rows.</summary>
    public static BackupFile Describe(string path, SqliteSchema? schema)
    {
        var name = Path.GetFileName(path);
        if (schema is null)
        {
            return new BackupFile(name, new FileInfo(path).Length, Sha256(path), null, null);
        }

        using var file = new DatabaseFile(path);
        return new BackupFile(name, new FileInfo(path).Length, Sha256(path), file.SchemaVersion, file.Rows());
    }

    /// <summary>SQLite's own check of the whole file; null where it is sound, else the first thing that is wrong.</summary>
    public string? Problem()
    {
        var answer = Text("PRAGMA integrity_check(1)");
        return answer == "ok" ? null : answer;
    }

    /// <summary>The tables with their number of rows.</summary>
    public SortedDictionary<string, long> Rows()
    {
        var tables = new List<string>();
        using (var command = connection.CreateCommand())
        {
            command.CommandText = "SELECT name FROM sqlite_schema WHERE type='table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'";
            using var reader = command.ExecuteReader();
            while (reader.Read())
            {
                tables.Add(reader.GetString(0));
            }
        }

        var rows = new SortedDictionary<string, long>(StringComparer.Ordinal);
        foreach (var table in tables)
        {
            rows.Add(table, Number($"SELECT count(*) FROM \"{table.Replace("\"", "\"\"", StringComparison.Ordinal)}\""));
        }

        return rows;
    }

    /// <inheritdoc/>
    public void Dispose() => connection.Dispose();

    private long Number(string sql) => Convert.ToInt64(Scalar(sql), CultureInfo.InvariantCulture);

    private string Text(string sql) => Convert.ToString(Scalar(sql), CultureInfo.InvariantCulture)!;

    private object? Scalar(string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Only the constants of this class come here, and the names of the file's own tables, quoted.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.CommandTimeout = 0;
        return command.ExecuteScalar();
    }
}
