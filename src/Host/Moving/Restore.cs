using System.Globalization;
using System.IO.Compression;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Health;
using Vanehour.Host.Output;

namespace Vanehour.Host.Moving;

//  backup --copy--> DIR/.restore-PID --checked--> mark --> old files to DIR/before-restore-TIME --> new files into DIR --> mark removed
//
// While the mark is there no command opens the folder, so that a restore that was killed half-way is never taken for a fleet.

/// <summary>Puts a backup into a data folder. Everything is checked before anything is replaced, and what was there is kept aside.</summary>
internal sealed class Restore
{
    /// <summary>The file that marks a folder whose files are being replaced.</summary>
    public const string Mark = "restore-unfinished";

    private const string Staging = ".restore-";
    private const string Aside = "before-restore-";
    private const int Busy = 5;
    private const int Locked = 6;

    // SQLite's own files beside a database.
    private static readonly string[] Companions = ["", "-wal", "-shm", "-journal"];

    private readonly string folder;
    private readonly TimeProvider time;
    private readonly ConsoleProgress progress;

    public Restore(string folder, TimeProvider time, ConsoleProgress progress)
    {
        this.folder = Path.GetFullPath(folder);
        this.time = time;
        this.progress = progress;
    }

    /// <summary>Refuses a folder in which a restore was cut short.</summary>
    /// <exception cref="CommandFailedException">It was.</exception>
    public static void RefuseUnfinished(string folder)
    {
        if (File.Exists(Path.Combine(folder, Mark)))
        {
            throw new CommandFailedException(
                $"A restore into {folder} was cut short; run 'vanehour restore' with --force again. What was there before is kept in {Path.Combine(folder, Aside + "*")}.");
        }
    }

    /// <summary>Restores a backup.</summary>
    /// <param name="source">The backup: a folder or a .zip file.</param>
    /// <param name="force">Whether a folder that holds something may be restored into.</param>
    /// <param name="cancellationToken">Stops before anything is replaced.</param>
    /// <returns>The backup's manifest, and where the old files are, or null where there were none.</returns>
    /// <exception cref="CommandFailedException">The backup is damaged, the folder holds something, or a program uses it.</exception>
    public async Task<(BackupManifest Manifest, string? Aside)> RunAsync(string source, bool force, CancellationToken cancellationToken)
    {
        if (!File.Exists(source) && !Directory.Exists(source))
        {
            throw new CommandFailedException($"There is no backup {source}.");
        }

        Directory.CreateDirectory(folder);
        foreach (var left in Directory.GetDirectories(folder, Staging + "*"))
        {
            Directory.Delete(left, recursive: true);
        }

        if (!force && Directory.EnumerateFileSystemEntries(folder).Any())
        {
            throw new CommandFailedException($"{folder} is not empty; choose another with --data, or replace what is there with --force (it is kept aside).");
        }

        var staged = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"{Staging}{Environment.ProcessId}"));
        Directory.CreateDirectory(staged);
        try
        {
            await progress.StepAsync("Reading the backup", _ => Task.Run(() => Stage(source, staged), cancellationToken));
            var manifest = BackupManifest.Read(staged, source);
            await progress.StepAsync("Checking the backup", share => Task.Run(() => Check(manifest, source, staged, share, cancellationToken), cancellationToken));
            return (manifest, Swap(manifest, staged));
        }
        finally
        {
            Directory.Delete(staged, recursive: true);
        }
    }

    // Only names that a backup can hold are taken, so that nothing can be written elsewhere.
    private static bool Stage(string source, string staged)
    {
        string[] names = [BackupManifest.Name, .. BackupManifest.Names];
        if (Directory.Exists(source))
        {
            foreach (var path in names.Select(n => Path.Combine(source, n)).Where(File.Exists))
            {
                File.Copy(path, Path.Combine(staged, Path.GetFileName(path)));
            }

            return true;
        }

        try
        {
            using var archive = ZipFile.OpenRead(source);
            foreach (var name in names)
            {
                archive.GetEntry(name)?.ExtractToFile(Path.Combine(staged, name));
            }

            return true;
        }
        catch (InvalidDataException e)
        {
            throw new CommandFailedException($"{source} is no backup, or a damaged one: {e.Message}", e);
        }
    }

    private static bool Check(BackupManifest manifest, string source, string staged, IProgress<double> share, CancellationToken cancellationToken)
    {
        double all = Math.Max(1, manifest.Files.Sum(f => f.Bytes));
        double done = 0;
        foreach (var expected in manifest.Files)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var path = Path.Combine(staged, expected.Name);
            if (!File.Exists(path) || new FileInfo(path).Length != expected.Bytes || DatabaseFile.Sha256(path) != expected.Sha256)
            {
                throw new CommandFailedException($"{expected.Name} in {source} is not what the backup's manifest says (missing or damaged); nothing was replaced. Take another backup.");
            }

            if (BackupManifest.Databases.FirstOrDefault(d => d.FileName == expected.Name) is { } schema)
            {
                CheckDatabase(path, schema, expected, source);
            }

            done += expected.Bytes;
            share.Report(done / all);
        }

        return true;
    }

    private static void CheckDatabase(string path, SqliteSchema schema, BackupFile expected, string source)
    {
        try
        {
            using var file = new DatabaseFile(path);
            if (file.SchemaVersion > schema.Version)
            {
                throw new CommandFailedException(
                    $"{expected.Name} in {source} was written by a newer Vanehour (schema {file.SchemaVersion}, this program knows {schema.Version}); restore it with that version or a newer one.");
            }

            var problem = file.ApplicationId != schema.ApplicationId ? "it is not a Vanehour database"
                : file.Problem() is { } damage ? damage
                : expected.Rows is null || !file.Rows().SequenceEqual(expected.Rows) ? "its tables do not have the rows the manifest says"
                : null;
            if (problem is not null)
            {
                throw new CommandFailedException($"{expected.Name} in {source} is damaged ({problem}); nothing was replaced. Take another backup.");
            }
        }
        catch (SqliteException e)
        {
            throw new CommandFailedException($"{expected.Name} in {source} is damaged ({e.Message}); nothing was replaced. Take another backup.", e);
        }
    }

    private string? Swap(BackupManifest manifest, string staged)
    {
        RefuseRunningWorker();
        var mark = Path.Combine(folder, Mark);
        var wasMarked = File.Exists(mark);
        File.WriteAllText(mark, "A restore replaces the files in this folder.\n");
        var moved = new List<(string From, string To)>();
        try
        {
            foreach (var database in BackupManifest.Databases)
            {
                RefuseUsed(Path.Combine(folder, database.FileName));
            }

            var aside = Path.Combine(folder, Aside + time.GetUtcNow().ToString("yyyyMMdd'T'HHmmss.fff'Z'", CultureInfo.InvariantCulture));
            var old = BackupManifest.Names
                .SelectMany(n => Companions.Select(c => n + c))
                .Where(n => File.Exists(Path.Combine(folder, n)))
                .ToList();
            if (old.Count > 0)
            {
                Directory.CreateDirectory(aside);
            }

            foreach (var name in old)
            {
                Move(Path.Combine(folder, name), Path.Combine(aside, name));
            }

            foreach (var file in manifest.Files)
            {
                Move(Path.Combine(staged, file.Name), Path.Combine(folder, file.Name));
            }

            File.Delete(mark);
            return old.Count > 0 ? aside : null;
        }
        catch
        {
            // Each move is a rename in one file system, and so is its way back.
            for (var i = moved.Count - 1; i >= 0; i--)
            {
                File.Move(moved[i].To, moved[i].From);
            }

            if (!wasMarked)
            {
                File.Delete(mark);
            }

            throw;
        }

        void Move(string from, string to)
        {
            File.Move(from, to);
            moved.Add((from, to));
        }
    }

    private void RefuseRunningWorker()
    {
        if (WorkerStatusFile.Read(folder) is { } status && status.IsLive(time.GetUtcNow()))
        {
            throw InUse($"a worker (process {status.ProcessId})");
        }
    }

    // Leaving the write-ahead log needs the file alone: it fails while any other program has it open, and else makes it one file, fit to be kept aside.
    private void RefuseUsed(string path)
    {
        if (!File.Exists(path))
        {
            return;
        }

        SqliteConnection.ClearAllPools();
        try
        {
            using var connection = new SqliteConnection(
                new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadWrite, Pooling = false, DefaultTimeout = 2 }.ToString());
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA journal_mode=DELETE";
            command.ExecuteNonQuery();
        }
        catch (SqliteException e) when (e.SqliteErrorCode is Busy or Locked)
        {
            throw InUse("another program");
        }
        catch (SqliteException)
        {
            // Damaged or foreign: that is what it is replaced for. It is kept aside as it is.
        }
    }

    private CommandFailedException InUse(string who) =>
        new($"{folder} is in use by {who}; stop it first, then restore. Nothing was replaced.");
}
