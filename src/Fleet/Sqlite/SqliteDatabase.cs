using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Vanehour.Fleet.Sqlite;

/// <summary>Opens a database file of the data folder: made when missing, migrated when older (after a backup copy), refused when newer or foreign.</summary>
public sealed class SqliteDatabase
{
    private const int NotADatabase = 26;
    private const int CannotOpen = 14;
    private const int ReadOnly = 8;
    private const int Corrupt = 11;
    private const int DiskFull = 13;
    private const int Busy = 5;
    private const int Locked = 6;
    private const int NoPermission = 3;
    private const int IoError = 10;

    // The index of the write-ahead log could not be made as large as it has to be: what a full disk does to a program that starts.
    private const int NoSpaceForLogIndex = 4874;

    private static readonly TimeSpan DefaultLockWait = TimeSpan.FromSeconds(30);

    private readonly string connectionString;
    private readonly string busyTimeout;

    private SqliteDatabase(string path, TimeSpan wait)
    {
        Path = path;
        busyTimeout = string.Create(CultureInfo.InvariantCulture, $"PRAGMA busy_timeout={(int)wait.TotalMilliseconds};");
        connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = SqliteOpenMode.ReadWrite,
            Pooling = true,

            // In whole seconds, and 0 would mean without end.
            DefaultTimeout = Math.Max(1, (int)Math.Ceiling(wait.TotalSeconds)),
        }.ToString();
    }

    /// <summary>The full path of the file.</summary>
    public string Path { get; }

    /// <summary>Opens <paramref name="schema"/>'s file in <paramref name="folder"/>, making folder and file where they are missing.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="schema">Which file, and what is in it.</param>
    /// <param name="lockWait">How long to wait for another program that writes before giving up with an error; 30 s unless told otherwise.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="lockWait"/> is negative or over an hour.</exception>
    /// <exception cref="DatabaseException">The folder is not writable, or the file is not ours, is newer than this program, or is damaged.</exception>
    public static SqliteDatabase Open(string folder, SqliteSchema schema, TimeSpan? lockWait = null)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        ArgumentNullException.ThrowIfNull(schema);
        var wait = lockWait ?? DefaultLockWait;
        ArgumentOutOfRangeException.ThrowIfLessThan(wait, TimeSpan.Zero, nameof(lockWait));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(wait, TimeSpan.FromHours(1), nameof(lockWait));
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new DatabaseException($"The data folder {folder} cannot be made or written to; choose another with --data.", e);
        }

        var path = System.IO.Path.GetFullPath(System.IO.Path.Combine(folder, schema.FileName));
        var database = new SqliteDatabase(path, wait);
        try
        {
            database.Prepare(schema);
        }
        catch (SqliteException e)
        {
            throw Explain(path, e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new DatabaseException($"{path} cannot be copied before it is brought up to date; check the folder's permissions and free space.", e);
        }

        return database;
    }

    /// <summary>Turns an SQLite error on <paramref name="path"/> into one that says what to do.</summary>
    public static DatabaseException Explain(string path, SqliteException error)
    {
        ArgumentNullException.ThrowIfNull(error);
        var code = error.SqliteExtendedErrorCode == NoSpaceForLogIndex ? DiskFull : error.SqliteErrorCode;
        var sentence = code switch
        {
            NotADatabase => $"{path} is not a Vanehour database; move it away or choose another folder with --data.",
            CannotOpen or ReadOnly or NoPermission => $"{path} cannot be written; check the folder's permissions or choose another with --data.",
            Corrupt => $"{path} is damaged; restore it from a backup.",
            DiskFull => $"The disk that holds {path} is full; free some space and start again.",
            Busy or Locked => $"{path} is in use by another program that does not let go; stop that program and try again.",
            IoError => $"{path} cannot be read or written (disk error); check the disk, and that the folder is not a network share.",
            _ => $"{path} cannot be used: {error.Message}",
        };
        return new DatabaseException(sentence, error);
    }

    /// <summary>A ready connection with this project's settings; the caller disposes it.</summary>
    public SqliteConnection Connect()
    {
        var connection = new SqliteConnection(connectionString);
        try
        {
            connection.Open();

            // FULL keeps a committed batch through a power cut: it is acknowledged to the broker right after.
            Execute(connection, busyTimeout + "PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA cache_size=-16384;");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Only constant scripts and numbers of this class come here.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }

    private static long Pragma(SqliteConnection connection, string name)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The name is a constant of this class.
        command.CommandText = $"PRAGMA {name}";
#pragma warning restore CA2100
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    // Throws where the file is not ours or newer than this program.
    private long CheckedVersion(SqliteConnection connection, SqliteSchema schema)
    {
        var applicationId = Pragma(connection, "application_id");
        var version = Pragma(connection, "user_version");
        var isEmpty = applicationId == 0 && version == 0 && Pragma(connection, "schema_version") == 0;
        if (!isEmpty && applicationId != schema.ApplicationId)
        {
            throw new DatabaseException($"{Path} is not a Vanehour database; move it away or choose another folder with --data.");
        }

        if (version > schema.Version)
        {
            throw new DatabaseException(
                $"{Path} was written by a newer Vanehour (schema {version}, this program knows {schema.Version}); use that version or a newer one.");
        }

        return version;
    }

    private void Prepare(SqliteSchema schema)
    {
        using var connection = Unpooled(SqliteOpenMode.ReadWriteCreate);
        long version;
        using (var oneState = connection.BeginTransaction(deferred: true))
        {
            // Another program may be making the file just now: outside a transaction each number could be of another moment.
            version = CheckedVersion(connection, schema);
            oneState.Commit();
        }

        // Not only for a new file: a backup copy that was put back is in SQLite's default mode, in which readers and the writer lock each other out.
        Execute(connection, "PRAGMA journal_mode=WAL;");
        if (version < schema.Version)
        {
            Migrate(connection, schema);
        }
    }

    private void Migrate(SqliteConnection connection, SqliteSchema schema)
    {
        // IMMEDIATE takes the write lock first, so that of two programs starting at once the second waits and finds the work done.
        using var transaction = connection.BeginTransaction(deferred: false);
        var version = CheckedVersion(connection, schema);
        if (version == schema.Version)
        {
            return;
        }

        if (version > 0)
        {
            Backup(version);
        }

        for (var next = version; next < schema.Version; next++)
        {
            Execute(connection, schema.Migrations[(int)next]);
        }

        Execute(connection, $"PRAGMA application_id={schema.ApplicationId}; PRAGMA user_version={schema.Version};");
        transaction.Commit();
    }

    // On a connection of its own, because a transaction is open on the other: it reads the state before the migration, which nobody can
    // change meanwhile. The copy gets its name only when it is whole.
    private void Backup(long version)
    {
        var copy = $"{Path}.schema{version}.backup";
        var part = copy + ".part";
        File.Delete(part);
        using (var connection = Unpooled(SqliteOpenMode.ReadOnly))
        {
            using var backup = connection.CreateCommand();
            backup.CommandText = "VACUUM INTO $part";
            backup.Parameters.AddWithValue("$part", part);
            backup.ExecuteNonQuery();
        }

        File.Move(part, copy, overwrite: true);
    }

    private SqliteConnection Unpooled(SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder(connectionString) { Mode = mode, Pooling = false }.ToString());
        try
        {
            connection.Open();
            Execute(connection, busyTimeout);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
