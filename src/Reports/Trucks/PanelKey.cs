using OxyPlot;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Trucks;

/// <summary>Draws the key of a panel beside its title. What has no room is left out whole, from the end: nothing is cut.</summary>
internal static class PanelKey
{
    private const double Gap = 13;
    private const double BesideMark = 5;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    // Shorter than in the panel, so that a short sample still shows three dashes.
    private static readonly double[] KeyDash = [2.4, 1.6];

    /// <summary>The width of the whole key, layout units.</summary>
    public static double Width(EmbeddedFontContext context, IReadOnlyList<KeyItem> items) =>
        items.Sum(i => WidthOf(context, i)) + (Gap * Math.Max(0, items.Count - 1));

    /// <param name="context">Where to draw.</param>
    /// <param name="items">The most needed first.</param>
    /// <param name="left">Where the key starts.</param>
    /// <param name="right">Where it must end.</param>
    /// <param name="top">The top of its words.</param>
    public static void Draw(EmbeddedFontContext context, IEnumerable<KeyItem> items, double left, double right, double top)
    {
        var x = left;
        foreach (var item in items)
        {
            var width = WidthOf(context, item);
            if (x + width > right)
            {
                return;
            }

            DrawMark(context, item.Mark, x, top + (HouseStyle.Note.Size * 0.47));
            context.Text(x + MarkRoom(item.Mark), top, item.Words, HouseStyle.Note);
            x += width + Gap;
        }
    }

    private static double WidthOf(EmbeddedFontContext context, KeyItem item) => MarkRoom(item.Mark) + context.Width(item.Words, HouseStyle.Note);

    private static double MarkRoom(KeyMark mark) => mark == KeyMark.None ? 0 : MarkWidth(mark) + BesideMark;

    private static double MarkWidth(KeyMark mark) => mark switch
    {
        KeyMark.Line or KeyMark.InkLine or KeyMark.DashedLine or KeyMark.Band or KeyMark.BandWithMiddle => 20,
        KeyMark.Whisker => 4,
        _ => 9,
    };

    private static void DrawMark(EmbeddedFontContext context, KeyMark mark, double left, double y)
    {
        var width = MarkWidth(mark);
        var x = left + (width / 2);
        switch (mark)
        {
            case KeyMark.Bar:
                context.DrawRectangle(new OxyRect(left, y - 5, width, 10), HouseStyle.DataFaint, OxyColors.Undefined, 0, Edges);
                break;
            case KeyMark.Line:
                Line(HouseStyle.Data, HouseStyle.DataLine, null);
                break;
            case KeyMark.InkLine:
                Line(HouseStyle.Ink, HouseStyle.DataLine, null);
                break;
            case KeyMark.DashedLine:
                Line(HouseStyle.Data, HouseStyle.DataLine, KeyDash);
                break;
            case KeyMark.Band or KeyMark.BandWithMiddle:
                context.DrawRectangle(new OxyRect(left, y - 5, width, 10), HouseStyle.Band, HouseStyle.BandEdge, mark == KeyMark.Band ? 1 : 0, Edges);
                if (mark == KeyMark.BandWithMiddle)
                {
                    Line(HouseStyle.BandEdge, 1.2, HouseStyle.AheadDash);
                }

                break;
            case KeyMark.Dot:
                Circle(HouseStyle.Data, OxyColors.Undefined);
                break;
            case KeyMark.Ring:
                Circle(HouseStyle.Paper, HouseStyle.Data);
                break;
            case KeyMark.FaintDot:
                Circle(HouseStyle.DataFaint, OxyColors.Undefined);
                break;
            case KeyMark.FaintRing:
                Circle(HouseStyle.Paper, HouseStyle.DataFaint);
                break;
            case KeyMark.Diamond:
                context.DrawPolygon([new(x, y - 5), new(x + 5, y), new(x, y + 5), new(x - 5, y)], HouseStyle.Paper, HouseStyle.Ink, 1.3, Edges);
                break;
            case KeyMark.Whisker:
                context.DrawLine([new(x, y - 6), new(x, y + 6)], HouseStyle.DataFaint, 1.2, Edges);
                break;
            case KeyMark.Outside:
                Triangle(HouseStyle.DataFaint, OxyColors.Undefined);
                break;
            case KeyMark.OffScale:
                Triangle(HouseStyle.Paper, HouseStyle.Alarm);
                break;
        }

        void Line(OxyColor color, double thickness, double[]? dash) =>
            context.DrawLine([new(left, y), new(left + width, y)], color, thickness, Edges, dash);

        void Circle(OxyColor fill, OxyColor stroke) => context.DrawEllipse(new OxyRect(x - 3.2, y - 3.2, 6.4, 6.4), fill, stroke, 1.1, Edges);

        void Triangle(OxyColor fill, OxyColor stroke) =>
            context.DrawPolygon([new(x, y - 4.5), new(x + 4.5, y + 3.6), new(x - 4.5, y + 3.6)], fill, stroke, 1.1, Edges);
    }
}
