namespace Vanehour.Ingest.Feed;

/// <summary>Waiting times between attempts: doubling up to a cap, each between half and all of its nominal length so that workers do not march in step.</summary>
/// <param name="first">Nominal length of the first.</param>
/// <param name="longest">The cap.</param>
/// <param name="seed">Seeds the jitter.</param>
internal sealed class Backoff(TimeSpan first, TimeSpan longest, int seed)
{
    private readonly Random jitter = new(seed);
    private int attempts;

    public TimeSpan Next()
    {
        // 2^30 times anything sensible is over any cap.
        var nominal = Math.Min(longest.Ticks, first.Ticks * Math.Pow(2, Math.Min(attempts, 30)));
        attempts++;
        return TimeSpan.FromTicks((long)(nominal * (0.5 + (0.5 * jitter.NextDouble()))));
    }

    public void Reset() => attempts = 0;

    /// <summary>A seed that differs from worker to worker and stays the same for each (FNV-1a of the name).</summary>
    public static int SeedOf(string name)
    {
        var hash = 2166136261u;
        foreach (var c in name)
        {
            hash = unchecked((hash ^ c) * 16777619u);
        }

        return unchecked((int)hash);
    }
}
