namespace Vanehour.Host.Settings;

/// <summary>What the long-running service does beside taking in samples.</summary>
public sealed class ServeSettings
{
    /// <summary>The longest time between analyses that can be set, minutes: a week.</summary>
    public const int LongestMinutes = 7 * 24 * 60;

    /// <summary>Minutes between analyses, 1 to <see cref="LongestMinutes"/>.</summary>
    public int AnalyseEveryMinutes { get; set; } = 60;
}
