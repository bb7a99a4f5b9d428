using System.Globalization;
using SkiaSharp;
using Vanehour.Models.Comparing;
using Vanehour.Models.Survival;
using Vanehour.Reports.Comparing;

namespace Vanehour.Reports.Tests.Comparing;

public sealed class ComparisonReportTests
{
    public static TheoryData<string> Stories() => [.. ComparisonStories.All.Keys];

    [Theory]
    [MemberData(nameof(Stories))]
    public void Texts_NeverOverlapNorLeaveThePage(string story)
    {
        foreach (var trade in new[] { true, false })
        {
            using var page = ComparisonReport.Draw(ComparisonStories.All[story](), new ReportOptions { Simulated = trade, Units = trade ? DisplayUnits.Trade : DisplayUnits.Si });
            PageAssert.TextsAreClear(page, 4);
            if (story is not ("long names" or "hostile"))
            {
                Assert.DoesNotContain(page.Context.Texts, t => t.Text.Contains('…'));
            }
        }
    }

    [Fact]
    public void EveryModel_IsNamedAtItsCurve_InTheTables_AndBesideItsLimits()
    {
        using var page = ComparisonReport.Draw(ComparisonStories.All["four"](), new ReportOptions());
        foreach (var name in new[] { "Alder 400", "Birch 230", "Cedar 310", "Elm 500" })
        {
            Assert.Equal(4, page.Context.Texts.Count(t => t.Text == name));
        }

        // As the table is aligned with the axis, numbers stand below their hours.
        var hours = page.Context.Texts.First(t => t.Text == "1\u202F000");
        Assert.True(page.Context.Texts.Count(t => t.Box.Top > hours.Box.Bottom && t.Box.Top < hours.Box.Bottom + 160 && Math.Abs(Middle(t) - Middle(hours)) < 0.5) >= 4);

        static double Middle(Drawing.DrawnText t) => (t.Box.Left + t.Box.Right) / 2;
    }

    [Fact]
    public void WhatIsMissing_IsSaid()
    {
        Assert.Contains(Words("none"), t => t.StartsWith("No pump life to compare yet", StringComparison.Ordinal));
        Assert.Contains("There is one model only: nothing to compare it with.", Words("one"));
        Assert.Contains("Nothing has failed yet, so there is nothing to plot.", Words("no failures"));
        Assert.Contains("Nothing is analysed yet.", Words("one failure"));
        Assert.Contains("not known yet", Words("unmeasured"));
        Assert.Contains(Words("nine"), t => t.Contains("9 pump models", StringComparison.Ordinal) && t.Contains("the 6 with most lives are drawn", StringComparison.Ordinal));
    }

    [Fact]
    public void Verdicts_AreSentences()
    {
        var data = ComparisonStories.All["four"]();
        var said = VerdictWords.Of(data.Comparison, ComparedRow.Of(data.Comparison), n => n);
        Assert.Equal(["Life", "Oil", "Wear"], said.Select(s => s.About));
        Assert.Contains("lasts longer than", said[0].Said, StringComparison.Ordinal);
        Assert.Equal(
            "Birch 230 uses more oil per hour than Alder 400 (p\u202F0.01). Cedar 310 uses more oil per hour than Birch 230 (p\u202F<\u202F0.001). "
            + "No evidence of a difference: Alder 400 and Cedar 310, Birch 230 and Elm 500. "
            + "Too few pumps to say: Alder 400 and Elm 500, Cedar 310 and Elm 500; it takes about 8 to 11 pumps of each.",
            said[1].Said);
        Assert.All(said, s => Assert.DoesNotContain("E-", s.Said, StringComparison.Ordinal));
    }

    [Fact]
    public void ManyPairsWithoutAnAnswer_AreCountedNotNamed()
    {
        var six = ComparisonStories.All["six"]().Comparison;
        var rows = ComparedRow.Of(six);
        Assert.Matches("Too few lives to say: every pair; it takes about [0-9]+ to [0-9]+ failures of both together[.]$", VerdictWords.Of(six, rows, n => n)[0].Said);
        Assert.Contains("Too few pumps to say: the other 5 pairs; it takes about 8 to 20 pumps of each.", VerdictWords.Of(six, rows, n => n)[1].Said, StringComparison.Ordinal);
    }

    [Fact]
    public void PointsOnWeibullPaper_StandHalfWayDownEachStep()
    {
        // Failures at 100 and 200 and one cut off at 150: the curve falls to 2/3, then to 0, where nothing more is plotted but half of 2/3.
        Lifetime[] lives = [new(0, 100, true), new(0, 150, false), new(0, 200, true)];
        var curve = new LifeCurve("A", KaplanMeier.Estimate(lives), [.. lives], null);
        Assert.Equal([(100, 1 - ((1 + (2.0 / 3)) / 2)), (200, 1 - (1.0 / 3))], WeibullPanel.PointsOf(curve).Select(p => (p.Hours, p.Share)), (a, b) => Math.Abs(a.Item2 - b.Item2) < 1e-12 && a.Item1 == b.Item1);
    }

    [Fact]
    public void SimulatedDataAndTheCaution_AreOnThePage()
    {
        foreach (var simulated in new[] { true, false })
        {
            using var page = ComparisonReport.Draw(ComparisonStories.All["two"](), new ReportOptions { Simulated = simulated });
            Assert.Equal(simulated, page.Context.Texts.Any(t => t.Text == "SIMULATED DATA"));
            Assert.Contains("locked out", string.Join(' ', page.Context.Texts.Select(t => t.Text)), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void SameInput_GivesTheSameBytes_WhateverTheCulture()
    {
        var first = ComparisonReport.Render(ComparisonStories.All["four"](), new ReportOptions { Scale = 1 });
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = new CultureInfo("de-DE");
            Assert.Equal("1,5", 1.5.ToString(CultureInfo.CurrentCulture));
            Assert.Equal(first, ComparisonReport.Render(ComparisonStories.All["four"](), new ReportOptions { Scale = 1 }));
        }
        finally
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = before;
        }

        using var bitmap = SKBitmap.Decode(first);
        Assert.Equal(800, bitmap.Width);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(4.1)]
    [InlineData(double.NaN)]
    public void Scale_OutsideItsRangeIsRefused(double scale) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ComparisonReport.Render(ComparisonStories.All["one"](), new ReportOptions { Scale = scale }));

    private static List<string> Words(string story)
    {
        using var page = ComparisonReport.Draw(ComparisonStories.All[story](), new ReportOptions());
        return [.. page.Context.Texts.Select(t => t.Text)];
    }
}
