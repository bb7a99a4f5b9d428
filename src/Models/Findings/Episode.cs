namespace Vanehour.Models.Findings;

/// <summary>A stretch of time in which a finding shows.</summary>
/// <param name="Since">The first run that shows it.</param>
/// <param name="ClosedAt">The run after which it no longer shows; null while it does.</param>
public sealed record Episode(DateTimeOffset Since, DateTimeOffset? ClosedAt)
{
    private const double OpensAt = 1;
    private const double ClosesBelow = 0.5;

    // While it builds up, the runs from here on belong to it.
    private const double BuildsFrom = 0.2;

    /// <summary>The latest episode among signposts in order of time, open or closed; null where there is none.</summary>
    public static Episode? Latest(IReadOnlyList<Signpost> posts)
    {
        ArgumentNullException.ThrowIfNull(posts);
        Episode? latest = null;
        for (var i = 0; i < posts.Count; i++)
        {
            if (latest is null or { ClosedAt: not null })
            {
                if (posts[i].Strength >= OpensAt)
                {
                    latest = new Episode(Beginning(posts, i, latest?.ClosedAt), null);
                }
            }
            else if (posts[i].Strength < ClosesBelow)
            {
                latest = latest with { ClosedAt = posts[i].At };
            }
        }

        return latest;
    }

    private static DateTimeOffset Beginning(IReadOnlyList<Signpost> posts, int opened, DateTimeOffset? after)
    {
        var since = posts[opened].At;
        for (var i = opened - 1; i >= 0 && posts[i].At > (after ?? DateTimeOffset.MinValue); i--)
        {
            if (posts[i].Shows)
            {
                since = posts[i].At;
            }
            else if (posts[i].Strength < BuildsFrom)
            {
                break;
            }
        }

        return since;
    }
}
