namespace Vanehour.Store.Telemetry;

/// <summary>What is stored of one truck.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Samples">How many samples.</param>
/// <param name="FirstMs">The earliest instant, Unix ms.</param>
/// <param name="LastMs">The latest instant, Unix ms.</param>
public sealed record TruckExtent(string Truck, long Samples, long FirstMs, long LastMs)
{
    /// <summary>The samples before this instant (Unix ms) were deleted, but for late ones that came after; <see cref="long.MinValue"/> where none were. Runs of that time stand as they are.</summary>
    public long KeptFromMs { get; init; } = long.MinValue;
}
