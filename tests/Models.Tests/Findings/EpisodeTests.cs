using Vanehour.Models.Findings;

namespace Vanehour.Models.Tests.Findings;

public sealed class EpisodeTests
{
    private static readonly DateTimeOffset Day = new(2026, 3, 1, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Latest_BuildingUp_BeginsWithTheFirstRunThatShowsIt()
    {
        var episode = Episode.Latest(Posts((0.1, false), (0.1, false), (0.3, true), (0.5, false), (0.8, true), (1.1, true)));
        Assert.Equal(new Episode(Day.AddDays(2), null), episode);
    }

    [Fact]
    public void Latest_ClosesOnlyBelowAHalf()
    {
        Assert.Null(Episode.Latest(Posts((1.2, true), (0.6, false), (0.9, true)))!.ClosedAt);
        Assert.Equal(Day.AddDays(1), Episode.Latest(Posts((1.2, true), (0.4, false), (0.9, true)))!.ClosedAt);
    }

    [Fact]
    public void Latest_Again_DoesNotReachBackIntoTheOneBefore()
    {
        var episode = Episode.Latest(Posts((1.2, true), (0.4, true), (0.9, true), (1.0, true)));
        Assert.Equal(new Episode(Day.AddDays(2), null), episode);
    }

    [Fact]
    public void Latest_NothingThere_IsNull()
    {
        Assert.Null(Episode.Latest([]));
        Assert.Null(Episode.Latest(Posts((0.99, true))));
    }

    private static Signpost[] Posts(params (double Strength, bool Shows)[] posts) =>
        [.. posts.Select((p, i) => new Signpost(Day.AddDays(i), p.Strength, p.Shows))];
}
