namespace Vanehour.Store.Telemetry;

/// <summary>What storing a batch changed; a sample that says nothing new counts nowhere.</summary>
/// <param name="Added">Samples whose key was new.</param>
/// <param name="Changed">Samples that were there and have another value now.</param>
public readonly record struct WriteTally(long Added, long Changed);
