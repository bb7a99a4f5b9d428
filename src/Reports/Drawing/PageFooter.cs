using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>The foot of a page: the caution that goes with every report.</summary>
internal static class PageFooter
{
    /// <summary>Its height above the page's margin, layout units.</summary>
    public const double Height = 36;

    private const string Caution =
        "Advice only. Before any check: PTO off, key out and locked out; vacuum and pressure bled to zero and the gauge read; mind hot pump, oil and hoses; "
        + "never enter a tank. The pump maker's manual, local codes and licensed practice come first.";

    public static void Draw(Page page)
    {
        var context = page.Context;
        var left = HouseStyle.PageMargin;
        var right = page.Bounds.Right - HouseStyle.PageMargin;
        var top = page.Bounds.Bottom - HouseStyle.PageMargin - Height;
        context.DrawLine([new(left, top), new(right, top)], HouseStyle.Axis, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
        top += 7;
        foreach (var line in context.Wrap(Caution, HouseStyle.Small, right - left, 2))
        {
            context.Text(left, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }
    }
}
