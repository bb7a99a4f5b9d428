namespace Vanehour.Scoring;

/// <summary>Of the samples of a truck the last of every six hours: enough to know how long it was silent.</summary>
internal static class HeardInstants
{
    private const long EveryMs = 6 * 3_600_000L;

    /// <summary>Keeps a sample in the place of the last one, where that is of the same six hours.</summary>
    /// <param name="kept">What is kept, in order of time.</param>
    /// <param name="next">The next sample.</param>
    /// <param name="unixMs">The instant of one, Unix ms.</param>
    public static void Keep<T>(List<T> kept, T next, Func<T, long> unixMs)
    {
        if (kept.Count > 0 && unixMs(kept[^1]) / EveryMs == unixMs(next) / EveryMs)
        {
            kept[^1] = next;
        }
        else
        {
            kept.Add(next);
        }
    }
}
