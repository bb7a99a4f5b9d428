namespace Vanehour.Host.Moving;

/// <summary>One file of a backup.</summary>
/// <param name="Name">Its name, the same as in the data folder.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">The SHA-256 of its bytes, hexadecimal.</param>
/// <param name="SchemaVersion">A database's schema version, or null for another file.</param>
/// <param name="Rows">A database's tables, each with its number of rows, or null.</param>
internal sealed record BackupFile(string Name, long Bytes, string Sha256, long? SchemaVersion, SortedDictionary<string, long>? Rows);
