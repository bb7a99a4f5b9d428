using OxyPlot;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Comparing;

/// <summary>Kaplan-Meier curves with their limits, a tick where a life is cut off, the Weibull fits as thin lines, and below how many lives are under observation.</summary>
internal static class SurvivalPanel
{
    private const double PlotHeight = 300;
    private const double RowHeight = 20;
    private const double TickHalf = 4.5;
    private const double LineWidth = 32;
    private const double NameIndent = 54;
    private const int Points = 120;

    /// <summary>Draws it.</summary>
    /// <returns>Where it ends, layout units.</returns>
    public static double Draw(EmbeddedFontContext context, IReadOnlyList<ComparedRow> rows, double level, double top, double left, double right)
    {
        context.Text(HouseStyle.PageMargin, top, "How long they last", HouseStyle.PanelTitle);
        context.Text(
            HouseStyle.PageMargin,
            top + 22,
            $"Steps: share still working (Kaplan-Meier), with {NumberWords.Percent(level)} limits. Upright ticks: lives cut off (running, rebuilt, removed). Thin lines: Weibull fits.",
            HouseStyle.Small);
        var hours = ValueScale.Round(0, Math.Max(100, rows.Max(r => r.Curve.LongestH)), 6);
        var area = new PlotArea(new OxyRect(left, top + 48, right - left, PlotHeight), 0, hours.High, 0, 1.02);
        var ticks = DrawAxes(context, area, hours);
        foreach (var row in rows)
        {
            DrawBand(context, area, row, rows.Count > 3 ? (byte)0x1C : (byte)0x2C);
        }

        foreach (var row in rows)
        {
            DrawFit(context, area, row);
        }

        foreach (var row in rows)
        {
            DrawCurve(context, area, row);
        }

        foreach (var row in rows)
        {
            Label(context, area, row);
        }

        return DrawRisk(context, rows, ticks, area, area.Box.Bottom + 44);
    }

    private static List<double> DrawAxes(EmbeddedFontContext context, PlotArea area, ValueScale hours)
    {
        for (var share = 0; share <= 4; share++)
        {
            var y = area.Y(share / 4.0);
            context.DrawLine([new(area.Box.Left, y), new(area.Box.Right, y)], share == 0 ? HouseStyle.Axis : HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            context.Text(area.Box.Left - 8, y, NumberWords.Percent(share / 4.0), HouseStyle.Tick, HorizontalAlignment.Right, VerticalAlignment.Middle);
        }

        var ticks = new List<double>();
        for (var at = 0.0; at <= hours.High; at += hours.Step)
        {
            ticks.Add(at);
            context.DrawLine([new(area.X(at), area.Box.Top), new(area.X(at), area.Box.Bottom + 4)], at == 0 ? HouseStyle.Axis : HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            context.Text(area.X(at), area.Box.Bottom + 7, NumberWords.Tick(at, hours.Step), HouseStyle.Tick, HorizontalAlignment.Center);
        }

        context.Text(area.Box.Right, area.Box.Bottom + 25, "PTO hours since fitting, h", HouseStyle.Tick, HorizontalAlignment.Right);
        return ticks;
    }

    private static void DrawBand(EmbeddedFontContext context, PlotArea area, ComparedRow row, byte alpha)
    {
        var steps = row.Curve.Curve.Steps;
        var (upper, lower) = (new List<ScreenPoint>(), new List<ScreenPoint>());
        for (var i = 0; i < steps.Length && steps[i] is { Low: { } low, High: { } high }; i++)
        {
            var until = i + 1 < steps.Length ? steps[i + 1].Age : Math.Max(row.Curve.LongestH, steps[i].Age);
            upper.AddRange([area.At(steps[i].Age, high), area.At(until, high)]);
            lower.AddRange([area.At(steps[i].Age, low), area.At(until, low)]);
        }

        if (upper.Count > 0)
        {
            lower.Reverse();
            context.DrawPolygon([.. upper, .. lower], OxyColor.FromAColor(alpha, row.Style.Color), OxyColors.Undefined, 0, EdgeRenderingMode.Automatic);
        }
    }

    private static void DrawFit(EmbeddedFontContext context, PlotArea area, ComparedRow row)
    {
        if (row.Curve.Weibull is { } fit)
        {
            var longest = row.Curve.LongestH;
            context.DrawLine(
                [.. Enumerable.Range(0, Points + 1).Select(i => longest * i / Points).Select(h => area.At(h, Math.Exp(-Math.Pow(h / fit.ScaleH, fit.Shape))))],
                row.Style.Color,
                HouseStyle.HairLine,
                EdgeRenderingMode.Automatic);
        }
    }

    private static void DrawCurve(EmbeddedFontContext context, PlotArea area, ComparedRow row)
    {
        var points = new List<ScreenPoint> { area.At(0, 1) };
        var survival = 1.0;
        foreach (var step in row.Curve.Curve.Steps)
        {
            points.AddRange([area.At(step.Age, survival), area.At(step.Age, step.Survival)]);
            survival = step.Survival;
        }

        points.Add(area.At(row.Curve.LongestH, survival));
        context.DrawLine(points, row.Style.Color, HouseStyle.DataLine, EdgeRenderingMode.Automatic, row.Style.Dash);
        context.DrawLineSegments(
            [
                .. row.Curve.Lifetimes.Where(l => !l.HasFailed).SelectMany(l =>
                {
                    var at = area.At(l.Exit, row.Curve.SurvivalAt(l.Exit));
                    return new ScreenPoint[] { new(at.X, at.Y - TickHalf), new(at.X, at.Y + TickHalf) };
                }),
            ],
            row.Style.Color,
            1.2,
            EdgeRenderingMode.Automatic);
    }

    // The model's name stands at its line, from the far end on, where there is room.
    private static void Label(EmbeddedFontContext context, PlotArea area, ComparedRow row)
    {
        var style = HouseStyle.Label with { Color = row.Style.Color };
        var name = context.Shorten(row.Name, style, 150);
        var spots = Enumerable.Range(0, 18).Select(i => row.Curve.LongestH * (1 - (i * 0.05))).SelectMany(h =>
        {
            var at = area.At(h, row.Curve.SurvivalAt(h));
            return new[]
            {
                new LabelSpot(at.X + 8, at.Y, HorizontalAlignment.Left, VerticalAlignment.Middle, true),
                new LabelSpot(at.X - 2, at.Y - 8, HorizontalAlignment.Center, VerticalAlignment.Bottom, true),
                new LabelSpot(at.X + 8, at.Y - 6, HorizontalAlignment.Left, VerticalAlignment.Bottom, true),
                new LabelSpot(at.X - 8, at.Y + 8, HorizontalAlignment.Right, VerticalAlignment.Top, true),
            };
        });
        LabelPlacer.Place(context, area.Box, name, style, spots);
    }

    private static double DrawRisk(EmbeddedFontContext context, IReadOnlyList<ComparedRow> rows, List<double> ticks, PlotArea area, double top)
    {
        context.Text(HouseStyle.PageMargin, top, "Lives under observation", HouseStyle.Label);
        top += RowHeight;
        foreach (var row in rows)
        {
            row.Style.DrawSwatch(context, HouseStyle.PageMargin, top + 7, LineWidth);
            context.Text(HouseStyle.PageMargin + NameIndent, top, context.Shorten(row.Name, HouseStyle.Tick, area.Box.Left - HouseStyle.PageMargin - NameIndent - 20), HouseStyle.Tick);
            foreach (var tick in ticks)
            {
                context.Text(area.X(tick), top, NumberWords.Whole(row.Curve.AtRisk(tick)), HouseStyle.Tick with { Color = HouseStyle.Ink }, HorizontalAlignment.Center);
            }

            top += RowHeight;
        }

        return top;
    }
}
