using System.IO.Compression;
using System.Reflection;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Moving;

/// <summary>Makes a backup of a data folder while its worker writes: both databases of one instant, the settings, and a manifest.</summary>
internal sealed class Backup
{
    /// <summary>A target that ends like this becomes one file.</summary>
    public const string Archive = ".zip";

    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    private readonly string folder;
    private readonly TimeProvider time;
    private readonly ConsoleProgress progress;

    /// <exception cref="CommandFailedException">There is no Vanehour data in the folder.</exception>
    public Backup(string folder, TimeProvider time, ConsoleProgress progress)
    {
        // Brings databases of an older version up to date first, as every command does.
        using var data = DataFolder.OpenExisting(folder);
        this.folder = data.Folder;
        this.time = time;
        this.progress = progress;
    }

    /// <summary>Writes the backup; under its name only when it is whole.</summary>
    /// <exception cref="CommandFailedException">There is something under the target's name already.</exception>
    public async Task<BackupManifest> WriteAsync(string target, CancellationToken cancellationToken)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(target));
        if (File.Exists(full) || (Directory.Exists(full) && Directory.EnumerateFileSystemEntries(full).Any()))
        {
            throw new CommandFailedException($"{full} is there already; a backup never overwrites anything, so name another file or folder.");
        }

        var parent = Path.GetDirectoryName(full) ?? throw new CommandFailedException($"{full} cannot be a backup; name a file or folder.");
        Directory.CreateDirectory(parent);
        var part = Path.Combine(parent, $".{Path.GetFileName(full)}.{Environment.ProcessId}.part");
        try
        {
            // The settings may hold a password.
            Make(part);
            var manifest = await progress.StepAsync("Copying databases", share => Task.Run(() => Copy(part, share, cancellationToken), cancellationToken));
            if (full.EndsWith(Archive, StringComparison.OrdinalIgnoreCase))
            {
                await progress.StepAsync("Packing", _ => Task.Run(() => Pack(part, full), cancellationToken));
            }
            else
            {
                if (Directory.Exists(full))
                {
                    Directory.Delete(full);
                }

                Directory.Move(part, full);
            }

            return manifest;
        }
        finally
        {
            if (Directory.Exists(part))
            {
                Directory.Delete(part, recursive: true);
            }
        }
    }

    private static void Make(string path)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(path);
        }
        else
        {
            Directory.CreateDirectory(path, OwnerOnly);
        }
    }

    private static bool Pack(string part, string target)
    {
        var packed = part + Archive;
        try
        {
            var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows())
            {
                options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            }

            using (var file = new FileStream(packed, options))
            {
                using (var archive = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true))
                {
                    foreach (var path in Directory.GetFiles(part).Order(StringComparer.Ordinal))
                    {
                        archive.CreateEntryFromFile(path, Path.GetFileName(path), CompressionLevel.Fastest);
                    }
                }

                file.Flush(flushToDisk: true);
            }

            File.Move(packed, target);
            return true;
        }
        finally
        {
            File.Delete(packed);
        }
    }

    private BackupManifest Copy(string part, IProgress<double> share, CancellationToken cancellationToken)
    {
        var databases = BackupManifest.Databases.Select(s => SqliteDatabase.Open(folder, s)).ToList();
        DateTimeOffset madeAt;
        using (var snapshot = new DatabaseSnapshot(databases))
        {
            madeAt = time.GetUtcNow();
            snapshot.CopyTo(part, share, cancellationToken);
        }

        var files = BackupManifest.Databases.Select(s => DatabaseFile.Describe(Path.Combine(part, s.FileName), s)).ToList();
        foreach (var name in BackupManifest.OtherFiles.Where(n => File.Exists(Path.Combine(folder, n))))
        {
            File.Copy(Path.Combine(folder, name), Path.Combine(part, name));
            files.Add(DatabaseFile.Describe(Path.Combine(part, name), null));
        }

        var manifest = new BackupManifest(
            BackupManifest.CurrentFormat, madeAt, typeof(Backup).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown", files);
        manifest.Write(part);
        return manifest;
    }
}
