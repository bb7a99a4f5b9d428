namespace Vanehour.Store.Telemetry;

/// <summary>What has been taken and is not yet on the server.</summary>
/// <param name="Samples">How many samples, redeliveries counted each time.</param>
/// <param name="OldestArrival">When the one that has waited longest arrived; null where none waits.</param>
public sealed record ForwardingBacklog(long Samples, DateTimeOffset? OldestArrival)
{
    /// <summary>Nothing waits.</summary>
    public static ForwardingBacklog None { get; } = new(0, null);

    /// <summary>How long the oldest has waited; zero where none waits.</summary>
    /// <param name="now">The clock.</param>
    public TimeSpan Age(DateTimeOffset now) => OldestArrival is { } oldest && now > oldest ? now - oldest : TimeSpan.Zero;
}
