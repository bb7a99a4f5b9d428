using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>What holds for every page of every kind of report.</summary>
public sealed class EveryPageTests
{
    public static TheoryData<string> Reports => [.. DrawnReports.All.Keys];

    [Theory]
    [MemberData(nameof(Reports))]
    public void Texts_NeverOverlapNorLeaveThePage(string report)
    {
        foreach (var simulated in new[] { true, false })
        {
            foreach (var page in DrawnReports.All[report]().Draw(new ReportOptions { Scale = 1, Simulated = simulated }, PageFormat.Pixels(1)))
            {
                using (page)
                {
                    PageAssert.TextsAreClear(page, 3);
                }
            }
        }
    }

    // The same drawing: every text in the same place, whether pixels or shapes are made of it.
    [Theory]
    [MemberData(nameof(Reports))]
    public void Shapes_HaveTheirTextsWherePixelsHaveThem(string report)
    {
        var drawn = DrawnReports.All[report]();
        var pixels = drawn.Draw(new ReportOptions(), PageFormat.Pixels(1)).ToList();
        var shapes = drawn.Draw(new ReportOptions(), PageFormat.Vector).ToList();
        Assert.Equal(pixels.Count, shapes.Count);
        foreach (var (a, b) in pixels.Zip(shapes))
        {
            Assert.Equal(a.Bounds, b.Bounds);
            Assert.Equal(a.Context.Texts, b.Context.Texts);
            a.Dispose();
            b.Dispose();
        }
    }
}
