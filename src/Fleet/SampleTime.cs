namespace Vanehour.Fleet;

/// <summary>Which instants a sample may have, the same whichever way it comes in.</summary>
public static class SampleTime
{
    /// <summary>The earliest instant, Unix seconds: 2000-01-01T00:00:00Z. A clock before that was never set.</summary>
    public const decimal EarliestS = 946_684_800m;

    /// <summary>How far ahead of our clock an instant may be, unless a setting says otherwise.</summary>
    public static readonly TimeSpan MaxAhead = TimeSpan.FromMinutes(10);

    /// <summary>Rounds Unix seconds to the millisecond, halves away from zero.</summary>
    /// <param name="seconds">Unix seconds, within the years 1 to 9999.</param>
    public static long ToUnixMs(decimal seconds) => decimal.ToInt64(decimal.Round(seconds * 1000m, MidpointRounding.AwayFromZero));
}
