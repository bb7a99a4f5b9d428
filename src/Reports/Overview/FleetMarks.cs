using OxyPlot;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Overview;

/// <summary>The marks of the overview's rows and of its key.</summary>
internal static class FleetMarks
{
    private const double R = 6.5;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    /// <summary>Wear: a bar for the interval and a stroke for the middle, on the line <paramref name="y"/>.</summary>
    public static void Wear(EmbeddedFontContext context, double low, double mid, double high, double y, OxyColor color)
    {
        context.DrawRectangle(new OxyRect(low, y - 5.5, Math.Max(1.5, high - low), 11), HouseStyle.BandEdge, OxyColors.Undefined, 0, Edges);
        context.DrawLine([new(mid, y - 7.5), new(mid, y + 7.5)], color, 3, Edges);
    }

    /// <summary>From the early to the late date of the limit; dashed where the forecast is provisional.</summary>
    public static void Line(EmbeddedFontContext context, double left, double right, double y, bool provisional) =>
        context.DrawLine([new(left, y), new(right, y)], HouseStyle.Ink, 2.5, Edges, provisional ? HouseStyle.ProvisionalDash : null);

    /// <summary>The median date of the limit; hollow where the forecast is provisional.</summary>
    public static void Diamond(EmbeddedFontContext context, double x, double y, bool provisional) => context.DrawPolygon(
        [new(x, y - R), new(x + R, y), new(x, y + R), new(x - R, y)],
        provisional ? HouseStyle.Paper : HouseStyle.Ink,
        HouseStyle.Ink,
        1.6,
        Edges);

    /// <summary>The interval goes on beyond the axis.</summary>
    public static void Arrow(EmbeddedFontContext context, double x, double y) =>
        context.DrawPolygon([new(x + 7, y), new(x - 1, y - 5), new(x - 1, y + 5)], HouseStyle.Ink, OxyColors.Undefined, 0, Edges);
}
