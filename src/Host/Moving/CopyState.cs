namespace Vanehour.Host.Moving;

/// <summary>How far a copy has come.</summary>
/// <param name="From">The source.</param>
/// <param name="To">The target.</param>
/// <param name="NextMs">Per truck the first instant that is not copied yet, Unix ms.</param>
internal sealed record CopyState(string From, string To, Dictionary<string, long> NextMs);
