namespace Vanehour.Host.Moving;

/// <summary>What the command line says of one end of a copy.</summary>
/// <param name="Folder">The data folder of this end: a database's own, or the one whose settings say where the server is.</param>
/// <param name="IsTarget">Whether it is written to, and made where it is missing.</param>
internal sealed record StoreEndRequest(string Folder, bool IsTarget);
