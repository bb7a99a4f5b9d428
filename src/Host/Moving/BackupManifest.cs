using System.Text.Json;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Demo;
using Vanehour.Host.Pages;
using Vanehour.Host.Settings;
using Vanehour.Scoring.Drills;
using Vanehour.Store.Sqlite;

namespace Vanehour.Host.Moving;

/// <summary>What a backup holds, written beside its files.</summary>
/// <param name="Format">The version of this layout, <see cref="CurrentFormat"/>.</param>
/// <param name="MadeAt">The instant of the copy.</param>
/// <param name="Vanehour">The version of the program that made it.</param>
/// <param name="Files">Its files.</param>
internal sealed record BackupManifest(int Format, DateTimeOffset MadeAt, string Vanehour, IReadOnlyList<BackupFile> Files)
{
    /// <summary>The layout that this program writes and reads.</summary>
    public const int CurrentFormat = 1;

    /// <summary>The manifest's file name.</summary>
    public const string Name = "vanehour-backup.json";

    /// <summary>The databases, in the order in which their write locks are taken.</summary>
    public static IReadOnlyList<SqliteSchema> Databases { get; } = [SamplesSchema.Current, FleetSchema.Current];

    /// <summary>The other files of a data folder that a backup holds where they exist.</summary>
    public static IReadOnlyList<string> OtherFiles { get; } = [SettingsFile.Name, DemoSettings.FileName, DrillFolder.SealedName, DrillFolder.TruthName, DrillFolder.FileName, DeedNotes.FileName];

    /// <summary>Every name a backup may hold beside its manifest.</summary>
    public static IEnumerable<string> Names => Databases.Select(d => d.FileName).Concat(OtherFiles);

    /// <summary>Reads a folder's manifest.</summary>
    /// <exception cref="CommandFailedException">There is none, or it is not one this program understands.</exception>
    public static BackupManifest Read(string folder, string source)
    {
        var path = Path.Combine(folder, Name);
        if (!File.Exists(path))
        {
            throw new CommandFailedException($"{source} is no Vanehour backup: it has no {Name}.");
        }

        BackupManifest? manifest;
        try
        {
            manifest = JsonSerializer.Deserialize(File.ReadAllBytes(path), MovingJson.Default.BackupManifest);
        }
        catch (JsonException e)
        {
            throw new CommandFailedException($"The manifest {Name} of {source} cannot be read, so the backup cannot be trusted; take another.", e);
        }

        if (manifest is null || manifest.Format != CurrentFormat)
        {
            throw new CommandFailedException($"{source} was made by a Vanehour that writes another kind of backup; restore it with that version.");
        }

        var names = manifest.Files.Select(f => f.Name).ToList();
        if (names.Except(Names, StringComparer.Ordinal).FirstOrDefault() is { } foreign)
        {
            throw new CommandFailedException($"{source} names a file that no backup holds ('{foreign}'); take another backup.");
        }

        if (Databases.FirstOrDefault(d => names.Count(n => n == d.FileName) != 1) is { } missing)
        {
            throw new CommandFailedException($"{source} does not hold {missing.FileName} once; take another backup.");
        }

        return manifest;
    }

    /// <summary>Writes it into a folder.</summary>
    public void Write(string folder) =>
        File.WriteAllBytes(Path.Combine(folder, Name), JsonSerializer.SerializeToUtf8Bytes(this, MovingJson.Default.BackupManifest));
}
