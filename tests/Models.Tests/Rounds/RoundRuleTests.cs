using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Rounds;

/// <summary>The finding that a round is overdue. 2 March 2026 is a Monday.</summary>
public sealed class RoundRuleTests
{
    private static readonly DateOnly Monday = new(2026, 3, 2);

    [Fact]
    public void NeverKept_IsNoFinding_Expected_IsOne_NotExpected_IsNone()
    {
        var now = new RoundStory().Local(2026, 3, 20, 20);
        Assert.Null(new RoundStory().Works(Monday.AddDays(-40), Monday.AddDays(30)).Overdue(now));

        var expected = new RoundStory { Options = new RoundOptions { Expect = true } }.Works(Monday.AddDays(-40), Monday.AddDays(30)).Overdue(now);
        Assert.NotNull(expected);
        Assert.Equal(["daily", "weekly", "monthly"], expected.Evidence.Select(e => e.Indicator.Split(' ')[0]).Distinct());

        var off = new RoundStory { Options = new RoundOptions { Expect = false } }.Works(Monday.AddDays(-40), Monday.AddDays(30));
        Assert.Null(off.Marks("weekly", off.Local(2026, 2, 2)).Overdue(now));
    }

    [Fact]
    public void Overdue_IsOneFindingOfTheTruck_WithItsChecksAndCautions()
    {
        var story = new RoundStory().Works(Monday.AddDays(-40), Monday.AddDays(30), hoursADay: 1);
        story.Marks("weekly; by Ann", story.Local(2026, 3, 2, 17));

        // Due on the 9th, two days of grace: overdue on the 12th.
        Assert.Null(story.Overdue(story.Local(2026, 3, 11, 20)));
        var finding = story.Overdue(story.Local(2026, 3, 12, 0));
        Assert.NotNull(finding);
        Assert.Equal((FindingKind.RoundOverdue, Urgency.Later, FindingStatus.Open, "T1"), (finding.Kind, finding.Urgency, finding.Status, finding.Truck));
        Assert.Null(finding.PumpSerial);
        Assert.Equal(story.Local(2026, 3, 9), finding.Since);
        var evidence = Assert.Single(finding.Evidence);
        Assert.Equal((10.0, "d", 7.0), (evidence.Value, evidence.Unit, evidence.ExpectedHigh!.Value));
        Assert.StartsWith("weekly round, 4 overdue: days since ", evidence.Indicator, StringComparison.Ordinal);
        Assert.Empty(finding.Causes);
        Assert.Equal(4, finding.Checks.Length);
        Assert.All(finding.Checks, c => Assert.NotEmpty(c.Caution));
    }

    [Fact]
    public void ByHours_SaysHours()
    {
        var story = new RoundStory().Works(Monday.AddDays(-40), Monday.AddDays(30), hoursADay: 12);
        story.Marks("flush", story.Local(2026, 3, 2, 21));
        var evidence = Assert.Single(story.Overdue(story.Local(2026, 3, 9, 21))!.Evidence);
        Assert.Equal((60.0, "h", 40.0), (evidence.Value, evidence.Unit, evidence.ExpectedHigh!.Value));
    }

    [Fact]
    public void ShutOffs_AreForThisWeek()
    {
        var story = new RoundStory().Works(Monday.AddDays(-80), Monday.AddDays(30), hoursADay: 1);
        story.Marks("monthly", story.Local(2026, 1, 5, 17));
        var finding = story.Overdue(story.Local(2026, 3, 6, 20));
        Assert.Equal(Urgency.Week, finding!.Urgency);
        Assert.StartsWith("Open the primary float shut-off", finding.Checks[0].Name, StringComparison.Ordinal);
    }

    [Fact]
    public void AFindingThatAPersonClosed_IsRaisedAgainOnlyByWhatFallsDueLater()
    {
        var story = new RoundStory().Works(Monday.AddDays(-40), Monday.AddDays(60), hoursADay: 1);
        story.Marks("flush", story.Local(2026, 3, 2, 17)).Marks("coupling", story.Local(2026, 3, 6, 17));
        var closed = story.Overdue(story.Local(2026, 3, 12, 12))!.Closed(new Verdict(null, "Ann", "no fluid"), story.Local(2026, 3, 12, 13));
        Assert.Null(story.Overdue(story.Local(2026, 3, 13, 12), closed));

        // The coupling was due on the 13th.
        var again = story.Overdue(story.Local(2026, 3, 17, 12), closed);
        Assert.Equal(story.Local(2026, 3, 13), again!.Since);
        Assert.Single(again.Checks);
    }

    [Fact]
    public void Analysis_OpensCarriesOnAndClosesIt()
    {
        ServiceRecord Mark(int day) => new() { Truck = "T1", At = SyntheticFleet.Begin.AddDays(day).AddHours(6), MeterH = 0, Kind = ServiceKind.Round, Note = "weekly" };
        var core = new AnalysisCore(new AnalysisOptions());
        IReadOnlyList<Finding> Analyse(int day, IReadOnlyList<Finding> before)
        {
            SyntheticTruck[] trucks = [new() { Id = "T1", Records = [Mark(7), Mark(25)] }, new() { Id = "T2" }];
            var data = new SyntheticFleet(trucks, 40, 1).Data(SyntheticFleet.Begin.AddDays(day).AddHours(23));
            return core.Run(data, before, null, CancellationToken.None).ChangedFindings;
        }

        Assert.Empty(Analyse(15, []));
        var opened = Assert.Single(Analyse(18, []));
        Assert.Equal((FindingKind.RoundOverdue, "T1"), (opened.Kind, opened.Truck));
        var carried = Assert.Single(Analyse(24, [opened]));
        Assert.Equal((opened.Id, opened.Since, FindingStatus.Open), (carried.Id, carried.Since, carried.Status));
        var closed = Assert.Single(Analyse(25, [carried]));
        Assert.Equal((opened.Id, FindingStatus.Closed, FindingClosing.Data), (closed.Id, closed.Status, closed.Closing));
    }
}
