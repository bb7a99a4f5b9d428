using Microsoft.Extensions.Time.Testing;
using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests.Feed;

public class SaidBeforeTests
{
    [Fact]
    public void TheSameProblem_IsSaidEveryTenMinutes_AnotherOneAtOnce()
    {
        var time = new FakeTimeProvider();
        var said = new SaidBefore(time);

        Assert.True(said.IsNew("the disk is full"));
        time.Advance(TimeSpan.FromMinutes(9));
        Assert.False(said.IsNew("the disk is full"));
        Assert.True(said.IsNew("the disk is broken"));
        Assert.True(said.IsNew("the disk is full"));
        time.Advance(TimeSpan.FromMinutes(10));
        Assert.True(said.IsNew("the disk is full"));

        said.Reset();
        Assert.True(said.IsNew("the disk is full"));
    }
}
