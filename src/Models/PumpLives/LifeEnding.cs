namespace Vanehour.Models.PumpLives;

/// <summary>How a pump's life ended, as far as it is known.</summary>
public enum LifeEnding
{
    /// <summary>It still runs.</summary>
    Running,

    /// <summary>It failed: the service record says so.</summary>
    Failed,

    /// <summary>It was rebuilt before it failed.</summary>
    Rebuilt,

    /// <summary>It was taken off before it failed.</summary>
    Removed,
}
