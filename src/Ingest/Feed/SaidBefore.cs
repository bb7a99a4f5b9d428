namespace Vanehour.Ingest.Feed;

/// <summary>Keeps an outage of a weekend from filling the log: the same problem is said again only every ten minutes.</summary>
/// <param name="time">The clock.</param>
internal sealed class SaidBefore(TimeProvider time)
{
    private static readonly TimeSpan Again = TimeSpan.FromMinutes(10);

    private string? last;
    private long since;

    /// <summary>Whether to say it; it then counts as said.</summary>
    public bool IsNew(string problem)
    {
        if (problem == last && time.GetElapsedTime(since) < Again)
        {
            return false;
        }

        (last, since) = (problem, time.GetTimestamp());
        return true;
    }

    /// <summary>The problem is over: the next one is new, even if it is the same.</summary>
    public void Reset() => last = null;
}
