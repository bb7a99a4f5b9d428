using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests.Feed;

public class TopicPatternTests
{
    [Theory]
    [InlineData("fleet/{truck}/pump", "fleet/+/pump")]
    [InlineData("{truck}", "+")]
    [InlineData("site/+/fleet/{truck}/#", "site/+/fleet/+/#")]
    public void Filter_HasAWildcardForTheTruck(string pattern, string filter) => Assert.Equal(filter, Parse(pattern).Filter);

    [Theory]
    [InlineData("fleet/{truck}/pump", "fleet/T07/pump", "T07")]
    [InlineData("fleet/{truck}/pump", "fleet/a-b_c.9/pump", "a-b_c.9")]
    [InlineData("{truck}", "T07", "T07")]
    [InlineData("site/+/{truck}/#", "site/x/T07", "T07")]
    [InlineData("site/+/{truck}/#", "site/x/T07/a/b", "T07")]
    [InlineData("site/{truck}/+", "site/T07/a", "T07")]
    public void Topic_GivesTheTruck(string pattern, string topic, string truck)
    {
        Assert.True(Parse(pattern).TryMatch(topic, out var found));
        Assert.Equal(truck, found.ToString());
    }

    [Theory]
    [InlineData("fleet/{truck}/pump", "fleet/T07")]
    [InlineData("fleet/{truck}/pump", "fleet/T07/pump/x")]
    [InlineData("fleet/{truck}/pump", "fleet/T07/motor")]
    [InlineData("fleet/{truck}/pump", "Fleet/T07/pump")]
    [InlineData("fleet/{truck}/pump", "fleet//pump")]
    [InlineData("fleet/{truck}/pump", "fleet/T 07/pump")]
    [InlineData("fleet/{truck}/pump", "fleet/T07+/pump")]
    [InlineData("fleet/{truck}/pump", "")]
    [InlineData("site/+/{truck}/#", "site/x")]
    public void OtherTopics_AreNotMatched(string pattern, string topic) => Assert.False(Parse(pattern).TryMatch(topic, out _));

    [Fact]
    public void TruckId_MayHave64CharactersAtMost()
    {
        var pattern = Parse(TopicPattern.Default);

        Assert.True(pattern.TryMatch($"fleet/{new string('x', 64)}/pump", out _));
        Assert.False(pattern.TryMatch($"fleet/{new string('x', 65)}/pump", out _));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("fleet/+/pump")]
    [InlineData("fleet/{truck}/{truck}")]
    [InlineData("fleet/x{truck}/pump")]
    [InlineData("fleet/{truck}/pu+mp")]
    [InlineData("fleet/#/{truck}")]
    [InlineData("$share/g/fleet/{truck}/pump")]
    [InlineData("fleet/{truck}/{yard}")]
    public void BadPattern_GetsASentence(string? pattern)
    {
        Assert.Null(TopicPattern.TryParse(pattern, out var problem));
        Assert.EndsWith(".", problem, StringComparison.Ordinal);
    }

    private static TopicPattern Parse(string pattern) => TopicPattern.TryParse(pattern, out _)!;
}
