namespace Vanehour.Fleet.Import;

/// <summary>A good row of a service file.</summary>
/// <param name="Line">The line it starts on.</param>
/// <param name="Key">The record's key in the register.</param>
/// <param name="Record">The record.</param>
internal sealed record ServiceRow(int Line, string Key, ServiceRecord Record);
