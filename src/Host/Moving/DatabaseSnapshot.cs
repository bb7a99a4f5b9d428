using Microsoft.Data.Sqlite;
using SQLitePCL;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Host.Moving;

/// <summary>
/// Copies several databases as they are at one instant, while other programs go on writing. Every write lock is taken for the moment it takes
/// to open a reading transaction on each file; then writers go on, and the pages are copied out of those transactions.
/// </summary>
internal sealed class DatabaseSnapshot : IDisposable
{
    // 4 MiB with SQLite's usual page.
    private const int PagesPerStep = 1024;

    private readonly List<(SqliteDatabase Database, SqliteConnection Connection)> pinned = [];

    /// <summary>Pins the present state of <paramref name="databases"/>.</summary>
    public DatabaseSnapshot(IReadOnlyList<SqliteDatabase> databases)
    {
        var held = new List<SqliteConnection>();
        try
        {
            foreach (var database in databases)
            {
                held.Add(Begin(database, "BEGIN IMMEDIATE"));
            }

            foreach (var database in databases)
            {
                // A deferred transaction has its state from its first read on.
                var connection = Begin(database, "BEGIN DEFERRED; SELECT count(*) FROM sqlite_schema;");
                pinned.Add((database, connection));
            }
        }
        catch
        {
            Dispose();
            throw;
        }
        finally
        {
            held.ForEach(End);
        }
    }

    /// <summary>Copies them into <paramref name="folder"/> under their own names, each a single file without a log beside it.</summary>
    public void CopyTo(string folder, IProgress<double> share, CancellationToken cancellationToken)
    {
        var sizes = pinned.Select(p => new FileInfo(p.Database.Path).Length).ToList();
        double all = Math.Max(1, sizes.Sum());
        double done = 0;
        for (var i = 0; i < pinned.Count; i++)
        {
            var (before, size) = (done, sizes[i]);
            Copy(pinned[i].Connection, Path.Combine(folder, Path.GetFileName(pinned[i].Database.Path)), part => share.Report((before + (part * size)) / all), cancellationToken);
            done += size;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        pinned.ForEach(p => End(p.Connection));
        pinned.Clear();
    }

    private static SqliteConnection Begin(SqliteDatabase database, string sql)
    {
        var connection = database.Connect();
        try
        {
            Execute(connection, sql);
            return connection;
        }
        catch (SqliteException e)
        {
            connection.Dispose();
            throw SqliteDatabase.Explain(database.Path, e);
        }
    }

    private static void End(SqliteConnection connection)
    {
        Execute(connection, "ROLLBACK");
        connection.Dispose();
    }

    private static void Copy(SqliteConnection source, string target, Action<double> report, CancellationToken cancellationToken)
    {
        try
        {
            using var copy = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = target, Pooling = false }.ToString());
            copy.Open();
            using (var backup = raw.sqlite3_backup_init(copy.Handle!, "main", source.Handle!, "main"))
            {
                if (backup.IsInvalid)
                {
                    SqliteException.ThrowExceptionForRC(raw.sqlite3_errcode(copy.Handle!), copy.Handle!);
                }

                int code;
                while ((code = raw.sqlite3_backup_step(backup, PagesPerStep)) == raw.SQLITE_OK)
                {
                    cancellationToken.ThrowIfCancellationRequested();
                    report(1 - ((double)raw.sqlite3_backup_remaining(backup) / Math.Max(1, raw.sqlite3_backup_pagecount(backup))));
                }

                if (code != raw.SQLITE_DONE)
                {
                    SqliteException.ThrowExceptionForRC(code, copy.Handle!);
                }
            }

            // The pages say write-ahead log; a copy is one file.
            Execute(copy, "PRAGMA journal_mode=DELETE");
        }
        catch (SqliteException e)
        {
            throw SqliteDatabase.Explain(target, e);
        }
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Only the constants of this class come here.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }
}
