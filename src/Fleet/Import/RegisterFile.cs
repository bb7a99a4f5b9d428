namespace Vanehour.Fleet.Import;

/// <summary>A file to import.</summary>
/// <param name="Name">Its name, for messages.</param>
/// <param name="Content">Its bytes, UTF-8 with or without a byte order mark.</param>
public sealed record RegisterFile(string Name, ReadOnlyMemory<byte> Content);
