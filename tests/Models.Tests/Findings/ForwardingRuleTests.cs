using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Tests.Findings;

/// <summary>Samples that wait too long for the server are a finding of the installation, which closes once they are through.</summary>
public sealed class ForwardingRuleTests
{
    private static readonly DateTimeOffset Now = SyntheticFleet.Begin.AddDays(10);

    [Theory]
    [InlineData(15, false)]
    [InlineData(15.1, true)]
    public void OldestSample_IsJudgedByItsWait(double minutes, bool isBehind) =>
        Assert.Equal(isBehind, Look(new ForwardingBacklog(7, Now.AddMinutes(-minutes)), Now).Count == 1);

    [Fact]
    public void Nothing_IsFine() => Assert.Empty(Look(ForwardingBacklog.None, Now));

    [Fact]
    public void Finding_SaysHowMuchAndHowLong_OfNoTruck()
    {
        var finding = Assert.Single(Look(new ForwardingBacklog(1234, Now.AddHours(-2)), Now));

        Assert.Equal((FindingKind.ForwardingBehind, Urgency.Week, FindingStatus.Open), (finding.Kind, finding.Urgency, finding.Status));
        Assert.Null(finding.Truck);
        Assert.Equal(Now.AddHours(-2), finding.Since);
        Assert.Equal([120.0, 1234], finding.Evidence.Select(e => e.Value));
        Assert.Equal(Cause.StoreUnreachable, finding.Causes[0].Cause);
        Assert.Equal(3, finding.Checks.Length);
        Assert.All(finding.Checks, c => Assert.Contains("samples.db", c.Caution, StringComparison.Ordinal));
    }

    [Fact]
    public void Analysis_OpensCarriesOnAndClosesIt()
    {
        var stores = new MemoryStores(new SyntheticFleet([], 10, 1));
        var analysis = new FleetAnalysis(stores, stores, stores, stores, new AnalysisOptions());
        var oldest = Now.AddMinutes(-20);
        var opened = Assert.Single(analysis.Analyse(Now, null, new ForwardingBacklog(10, oldest), null, default).Findings);

        // The oldest has got through, but those after it wait too.
        var carried = Assert.Single(analysis.Analyse(Now.AddHours(1), null, new ForwardingBacklog(9, oldest.AddMinutes(5)), null, default).Findings);
        Assert.Equal((opened.Id, oldest), (carried.Id, carried.Since));

        // An analysis that does not know leaves it alone.
        Assert.Single(analysis.Analyse(Now.AddHours(2), null, default).Findings);
        Assert.Empty(analysis.Analyse(Now.AddHours(3), null, ForwardingBacklog.None, null, default).Findings);
        Assert.Equal(FindingStatus.Closed, Assert.Single(new FindingBook(stores).All()).Status);
    }

    [Fact]
    public void ClosedByAPerson_CountsFromThenOn()
    {
        var backlog = new ForwardingBacklog(10, Now.AddHours(-2));
        var closed = Assert.Single(Look(backlog, Now)) with { Status = FindingStatus.Closed, Closed = Now, CauseFound = Cause.StoreSlow };

        Assert.Empty(Look(backlog, Now.AddMinutes(10), closed));
        var again = Assert.Single(Look(backlog, Now.AddMinutes(20), closed));
        Assert.NotEqual(closed.Id, again.Id);
        Assert.Equal(Now, again.Since);
    }

    private static List<Finding> Look(ForwardingBacklog backlog, DateTimeOffset asOf, params Finding[] before) =>
        [.. new ForwardingRule(new FindingOptions(), Knowledge.Default).Look(backlog, asOf, before)];
}
