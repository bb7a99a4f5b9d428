namespace Vanehour.Store.Outbox;

/// <summary>How long to wait before asking a server again: doubling up to a cap, each between half and all of it so that workers do not march in step; longer where the server says so.</summary>
/// <param name="first">The first, nominally.</param>
/// <param name="longest">The cap.</param>
/// <param name="jitter">Seeded by the caller.</param>
internal sealed class RetryWait(TimeSpan first, TimeSpan longest, Random jitter)
{
    // What a server asks for is honoured up to here; a slip of a proxy must not stop forwarding for a day. Invented.
    private static readonly TimeSpan LongestAsked = TimeSpan.FromHours(1);

    private int failures;

    /// <summary>The wait after one more failure.</summary>
    /// <param name="asked">What the server asks for, or null.</param>
    public TimeSpan Next(TimeSpan? asked)
    {
        // 2^30 times anything sensible is over any cap.
        var nominal = Math.Min(longest.Ticks, first.Ticks * Math.Pow(2, Math.Min(failures, 30)));
        failures++;
        var own = TimeSpan.FromTicks((long)(nominal * (0.5 + (0.5 * jitter.NextDouble()))));
        var wanted = asked is { } a && a > TimeSpan.Zero ? a : TimeSpan.Zero;
        wanted = wanted < LongestAsked ? wanted : LongestAsked;
        return own > wanted ? own : wanted;
    }

    /// <summary>It worked: the next failure is the first again.</summary>
    public void Reset() => failures = 0;
}
