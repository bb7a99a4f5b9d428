using System.Globalization;
using OxyPlot;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Comparing;

/// <summary>
/// The failures on Weibull paper, where a Weibull distribution is a straight line: log hours against log(-log(share that lasts)). Points stand half-way down each step of the
/// Kaplan-Meier curve. Source: Meeker and Escobar, Statistical Methods for Reliability Data (1998), section 6.4.
/// </summary>
internal static class WeibullPanel
{
    private const double PlotHeight = 200;
    private const double PlotLeft = 76;
    private const double TableWidth = 318;
    private const double RowHeight = 22;

    private static readonly double[] Shares = [0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999];

    /// <summary>Draws it.</summary>
    /// <returns>Where it ends, layout units.</returns>
    public static double Draw(EmbeddedFontContext context, IReadOnlyList<ComparedRow> rows, LifeOptions options, double top, double right)
    {
        context.Text(HouseStyle.PageMargin, top, "Does a Weibull distribution fit?", HouseStyle.PanelTitle);
        var points = rows.Select(r => (Row: r, Points: PointsOf(r.Curve))).ToList();
        var all = points.SelectMany(p => p.Points).ToList();
        var plotRight = right - TableWidth - 24;
        var tableEnd = DrawTable(context, rows, options, top + 26, plotRight + 24, right);
        if (all.Count == 0)
        {
            foreach (var (line, i) in context.Wrap("Nothing has failed yet, so there is nothing to plot.", HouseStyle.Note, plotRight - HouseStyle.PageMargin, 3).Select((l, i) => (l, i)))
            {
                context.Text(HouseStyle.PageMargin, top + 34 + (i * HouseStyle.Note.LineHeight), line, HouseStyle.Note);
            }

            return Math.Max(top + 80, tableEnd);
        }

        context.Text(HouseStyle.PageMargin, top + 22, "Points that bend away from their line say that it does not.", HouseStyle.Small);
        var (from, to) = (Math.Log(all.Min(p => p.Hours)), Math.Log(all.Max(p => p.Hours)));
        var pad = Math.Max(0.15, (to - from) * 0.06);
        var (least, most) = (Math.Min(all.Min(p => p.Share), 0.1) * 0.8, Math.Max(all.Max(p => p.Share), 0.9));
        var area = new PlotArea(new OxyRect(PlotLeft, top + 48, plotRight - PlotLeft, PlotHeight), from - pad, to + pad, Paper(least), Paper(Math.Min(0.9995, 1 - ((1 - most) * 0.8))));
        DrawAxes(context, area);
        foreach (var (row, own) in points)
        {
            DrawLine(context, area, row);
            foreach (var (hours, share) in own)
            {
                row.Style.DrawMark(context, area.X(Math.Log(hours)), area.Y(Paper(share)));
            }
        }

        return Math.Max(area.Box.Bottom + 44, tableEnd);
    }

    /// <summary>The plotted points: hours and the share that has failed, 0..1.</summary>
    internal static List<(double Hours, double Share)> PointsOf(LifeCurve curve)
    {
        var points = new List<(double, double)>();
        var before = 1.0;
        foreach (var step in curve.Curve.Steps)
        {
            points.Add((step.Age, 1 - ((before + step.Survival) / 2)));
            before = step.Survival;
        }

        // After a fall to 0 the curve says nothing more.
        return [.. points.Where(p => p.Item2 is > 0 and < 1)];
    }

    private static double Paper(double failed) => Math.Log(-Math.Log(1 - failed));

    private static void DrawAxes(EmbeddedFontContext context, PlotArea area)
    {
        foreach (var share in Shares.Where(s => Paper(s) >= area.Bottom && Paper(s) <= area.Top))
        {
            var y = area.Y(Paper(share));
            context.DrawLine([new(area.Box.Left, y), new(area.Box.Right, y)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            LabelPlacer.Place(
                context,
                new OxyRect(HouseStyle.PageMargin, area.Box.Top - 12, area.Box.Right, area.Box.Height + 24),
                NumberWords.Fixed(share * 100, share is < 0.01 or > 0.99 ? 1 : 0) + " %",
                HouseStyle.Tick,
                [new LabelSpot(area.Box.Left - 8, y, HorizontalAlignment.Right, VerticalAlignment.Middle)]);
        }

        context.DrawLine([new(area.Box.Left, area.Box.Top), new(area.Box.Left, area.Box.Bottom), new(area.Box.Right, area.Box.Bottom)], HouseStyle.Axis, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
        var hours = Hours(area).ToList();
        foreach (var at in hours)
        {
            context.DrawLine([new(area.X(Math.Log(at)), area.Box.Top), new(area.X(Math.Log(at)), area.Box.Bottom + 4)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            LabelPlacer.Place(
                context,
                new OxyRect(HouseStyle.PageMargin, area.Box.Bottom, area.Box.Right + 24 - HouseStyle.PageMargin, 24),
                NumberWords.Whole(at),
                HouseStyle.Tick,
                [new LabelSpot(area.X(Math.Log(at)), area.Box.Bottom + 7, HorizontalAlignment.Center)]);
        }

        context.Text(area.Box.Right, area.Box.Bottom + 25, "PTO hours since fitting (log), against share failed", HouseStyle.Tick, HorizontalAlignment.Right);
    }

    private static IEnumerable<double> Hours(PlotArea area)
    {
        // The roundest first: they keep their labels where there is no room for all.
        double[] steps = area.Right - area.Left > Math.Log(10) ? [1, 2, 5] : area.Right - area.Left > Math.Log(3) ? [1, 2, 5, 3, 1.5, 7] : [1, 2, 5, 3, 1.5, 4, 7, 1.2, 2.5, 6, 8, 9];
        foreach (var step in steps)
        {
            for (var power = Math.Floor(area.Left / Math.Log(10)); power <= area.Right / Math.Log(10); power++)
            {
                var at = step * Math.Pow(10, power);
                if (Math.Log(at) >= area.Left && Math.Log(at) <= area.Right)
                {
                    yield return at;
                }
            }
        }
    }

    private static void DrawLine(EmbeddedFontContext context, PlotArea area, ComparedRow row)
    {
        if (row.Curve.Weibull is not { } fit)
        {
            return;
        }

        // Straight: y = shape (log hours - log scale); cut where it leaves the paper.
        double HoursAt(double y) => (y / fit.Shape) + Math.Log(fit.ScaleH);
        var (from, to) = (Math.Max(area.Left, HoursAt(area.Bottom)), Math.Min(area.Right, HoursAt(area.Top)));
        if (from < to)
        {
            ScreenPoint At(double x) => area.At(x, fit.Shape * (x - Math.Log(fit.ScaleH)));
            context.DrawLine([At(from), At(to)], row.Style.Color, 1.4, EdgeRenderingMode.Automatic, row.Style.Dash);
        }
    }

    private static double DrawTable(EmbeddedFontContext context, IReadOnlyList<ComparedRow> rows, LifeOptions options, double top, double left, double right)
    {
        var (shape, b10) = (right - 150, right - 84);
        context.Text(shape, top, "shape", HouseStyle.Label, HorizontalAlignment.Right);
        context.Text(b10, top, "B10, h", HouseStyle.Label, HorizontalAlignment.Right);
        context.Text(right, top, "best, h", HouseStyle.Label, HorizontalAlignment.Right);
        foreach (var row in rows)
        {
            top += RowHeight;
            context.DrawLine([new(left, top - 4), new(right, top - 4)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            row.Style.DrawMark(context, left + 6, top + 6);
            context.Text(left + 18, top, context.Shorten(row.Name, HouseStyle.Tick, shape - 50 - left - 18), HouseStyle.Tick);
            Number(shape, row.Life.Weibull is { } w ? NumberWords.Fixed(w.Shape, 1) : "–");
            Number(b10, row.Life.B10H?.Mid is { } mid ? NumberWords.Whole(mid) : "–");
            Number(right, row.Life.Replacement?.AgeH is { } age ? NumberWords.Whole(age) : "–");
        }

        top += RowHeight + 4;
        var words = $"B10: 10 % have failed by then. Best: the age of a planned rebuild that costs least by these lives alone, a failure at {options.FailureCostRatio.ToString("0.##", CultureInfo.InvariantCulture)} planned rebuilds.";
        foreach (var line in context.Wrap(words, HouseStyle.Small, right - left, 4))
        {
            context.Text(left, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }

        return top;

        void Number(double x, string text) => context.Text(x, top, text, HouseStyle.Tick with { Color = HouseStyle.Ink }, HorizontalAlignment.Right);
    }
}
