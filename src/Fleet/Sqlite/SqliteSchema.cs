using System.Collections.Immutable;

namespace Vanehour.Fleet.Sqlite;

/// <summary>The schema of one database file: migration N brings version N-1 to version N.</summary>
/// <param name="FileName">The file's name in the data folder.</param>
/// <param name="ApplicationId">SQLite's application_id, which marks the file as ours.</param>
/// <param name="Migrations">SQL scripts in order; the number of them is the current version.</param>
public sealed record SqliteSchema(string FileName, int ApplicationId, ImmutableArray<string> Migrations)
{
    /// <summary>The version this program writes.</summary>
    public int Version => Migrations.Length;
}
