using Vanehour.Models.Planning;
using Vanehour.Reports.Planning;

namespace Vanehour.Reports.Tests.Planning;

/// <summary>The pictures of the plan and of the digest.</summary>
public sealed class PlanReportTests
{
    private static readonly ReportOptions Options = new() { Scale = 1 };

    public static TheoryData<string> Stories => [.. PlanStories.Names];

    [Theory]
    [MemberData(nameof(Stories))]
    public void Plan_TextsNeitherOverlapNorLeaveThePage(string story)
    {
        using var page = PlanReport.Draw(PlanStories.Of(story).Data, Options with { Simulated = true });
        PageAssert.TextsAreClear(page);
        Assert.Contains(page.Context.Texts, t => t.Text == "SIMULATED DATA");
    }

    [Theory]
    [MemberData(nameof(Stories))]
    public void Digest_TextsNeitherOverlapNorLeaveThePage(string story)
    {
        using var page = DigestReport.Draw(PlanStories.Of(story).Digest, Options with { Simulated = true });
        PageAssert.TextsAreClear(page);
    }

    [Theory]
    [MemberData(nameof(Stories))]
    public void TheSameInput_GivesTheSameBytes(string story)
    {
        var (data, digest) = PlanStories.Of(story);
        Assert.Equal(PlanReport.Render(data, Options), PlanReport.Render(PlanStories.Of(story).Data, Options));
        Assert.Equal(DigestReport.Render(digest, Options), DigestReport.Render(PlanStories.Of(story).Digest, Options));
    }

    [Theory]
    [InlineData("typical")]
    [InlineData("eight yards")]
    [InlineData("many jobs in a week")]
    [InlineData("horizon 5")]
    [InlineData("horizon 78")]
    public void Plan_HasEveryJobAndWeekAndYardOnce(string story)
    {
        var data = PlanStories.Of(story).Data;
        using var page = PlanReport.Draw(data, Options);
        var texts = page.Context.Texts.Select(t => t.Text).ToList();
        Assert.NotEmpty(data.Plan.Jobs);
        Assert.All(data.Plan.Jobs, j => Assert.Single(texts, j.Truck));
        Assert.All(Enumerable.Range(0, data.Plan.HorizonWeeks).GroupBy(w => data.Plan.FirstWeek.Plus(w).ToString()[5..]), g => Assert.Equal(g.Count(), texts.Count(t => t == g.Key)));
        var bands = (data.Plan.HorizonWeeks + 12) / 13;
        Assert.All(data.Yards, y => Assert.Equal(bands, texts.Count(t => t == y)));
    }

    [Fact]
    public void Plan_SaysWhatMattersBesides()
    {
        var data = PlanStories.Of("typical").Data;
        using var page = PlanReport.Draw(data, Options);
        var said = string.Join(' ', page.Context.Texts.Select(t => t.Text));
        Assert.Contains($"{data.Plan.Jobs.Length} rebuilds in 26 weeks from 2026-W23", said, StringComparison.Ordinal);
        Assert.Contains("costs are invented examples, set your own", said, StringComparison.Ordinal);
        Assert.Contains("Stop first T01: OilUseLow. Look at the oil line and count the drops. CAUTION: PTO off.", said, StringComparison.Ordinal);
        Assert.NotEmpty(data.Plan.Moves);
        Assert.Contains(PlanWords.Of(data.Plan.Moves[0]), said, StringComparison.Ordinal);
        Assert.NotEmpty(data.Plan.Orders);
        Assert.Contains(PlanWords.Of(data.Plan.Orders[0], data.Plan.FirstWeek), said, StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_ThatCannotHoldTheRisk_SaysSo()
    {
        var data = PlanStories.Of("high chances").Data;
        using var page = PlanReport.Draw(data, Options);
        var said = string.Join(' ', page.Context.Texts.Select(t => t.Text));
        Assert.Contains("North cannot hold the risk: ", said, StringComparison.Ordinal);
        Assert.Contains("One more slot in North in ", said, StringComparison.Ordinal);
        Assert.Contains(data.Plan.Jobs, j => j.ChanceBefore >= data.Options.HighChance);
    }

    [Fact]
    public void PinsSwapsBlocksAndHighChances_AreSeen()
    {
        var data = PlanStories.Of("pins, swaps and blocks").Data;
        Assert.Contains(data.Plan.Jobs, j => j.Pinned);
        Assert.Contains(data.Plan.Jobs, j => j.Swap);
        var drawn = PlanReport.Render(data, Options);

        // Without one of them the picture is another one.
        RebuildPlan[] others =
        [
            data.Plan with { Jobs = [.. data.Plan.Jobs.Select(j => j with { Pinned = false })] },
            data.Plan with { Jobs = [.. data.Plan.Jobs.Select(j => j with { Swap = false })] },
            data.Plan with { Jobs = [.. data.Plan.Jobs.Select(j => j with { ChanceBefore = 0.9 })] },
        ];
        Assert.All(others, o => Assert.NotEqual(drawn, PlanReport.Render(data with { Plan = o }, Options)));
        Assert.NotEqual(drawn, PlanReport.Render(data with { Marks = [] }, Options));
    }

    [Fact]
    public void EmptyPlanAndDigest_SayThatThereIsNothing()
    {
        var (data, digest) = PlanStories.Of("empty");
        using var page = PlanReport.Draw(data, Options);
        Assert.Contains(page.Context.Texts, t => t.Text.StartsWith("0 rebuilds in 26 weeks from 2026-W23 · expected cost 0 · 1 pump later", StringComparison.Ordinal));
        using var week = DigestReport.Draw(digest, Options);
        Assert.Equal(7, week.Context.Texts.Count(t => t.Text == "Nothing."));
        Assert.Contains(week.Context.Texts, t => t.Text == "Changed (no plan is a week old yet)");
    }

    [Fact]
    public void Digest_SaysWhatItHolds()
    {
        var digest = PlanStories.Of("typical").Digest;
        using var page = DigestReport.Draw(digest, Options);
        var said = string.Join(' ', page.Context.Texts.Select(t => t.Text));
        Assert.Contains("Week 2026-W23", said, StringComparison.Ordinal);
        Assert.Contains("T01: OilUseLow. Look at the oil line and count the drops. CAUTION: PTO off.", said, StringComparison.Ordinal);
        Assert.NotEmpty(digest.Moves);
        Assert.All(digest.Moves, m => Assert.Contains(PlanWords.Of(m), said, StringComparison.Ordinal));
        Assert.NotEmpty(digest.ThisWeek);
        Assert.All(digest.ThisWeek.Concat(digest.NextWeek), j => Assert.Contains(PlanWords.Of(j), said, StringComparison.Ordinal));
        Assert.Contains("Not heard T02, never", said, StringComparison.Ordinal);
        Assert.Contains("T03: RunningHot (", said, StringComparison.Ordinal);
    }
}
