using System.Globalization;
using OxyPlot;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Scores;

/// <summary>An evaluation as a picture: for each kind of fault the share that was found, fixed thresholds below it, then the measures in numbers.</summary>
public static class ScorePicture
{
    private const double RowHeight = 34;
    private const double BarLeft = 230;
    private const double BarRight = 640;
    private const double BarTop = 172;
    private const double MeasureHeight = 26;

    /// <summary>Draws a PNG. The same input gives the same bytes.</summary>
    /// <param name="title">What was evaluated, in one line.</param>
    /// <param name="rows">The faults, in the order in which they are drawn; at least one.</param>
    /// <param name="measures">The measures.</param>
    /// <param name="scale">Pixels a layout unit, 1 to 4.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(string title, IReadOnlyList<ScoreRow> rows, IReadOnlyList<ScoreMeasure> measures, double scale = 2)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(scale, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scale, 4);
        using var page = Draw(title, rows, measures, PageFormat.Pixels(scale));
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="title">What was evaluated, in one line.</param>
    /// <param name="rows">The faults, in the order in which they are drawn; at least one.</param>
    /// <param name="measures">The measures.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(string title, IReadOnlyList<ScoreRow> rows, IReadOnlyList<ScoreMeasure> measures, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(title, rows, measures, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(string title, IReadOnlyList<ScoreRow> rows, IReadOnlyList<ScoreMeasure> measures, PageFormat format)
    {
        ArgumentNullException.ThrowIfNull(title);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(measures);
        var tableTop = BarTop + (rows.Count * RowHeight) + 40;
        var page = new Page(HouseStyle.PageWidth, tableTop + ((measures.Count + 1) * MeasureHeight) + HouseStyle.PageMargin + 8, format);
        var context = page.Context;
        var left = HouseStyle.PageMargin;
        var width = page.Bounds.Right - (2 * left);
        context.Text(left, 18, "Faults found, against the truth", HouseStyle.PageTitle);
        var top = 56.0;
        foreach (var line in context.Wrap(title, HouseStyle.Body, width, 2))
        {
            context.Text(left, top, line, HouseStyle.Body);
            top += HouseStyle.Body.LineHeight;
        }

        DrawKey(context, left, 104);
        DrawScale(context, BarTop + (rows.Count * RowHeight));
        for (var i = 0; i < rows.Count; i++)
        {
            DrawRow(context, rows[i], BarTop + (i * RowHeight));
        }

        DrawMeasures(context, measures, tableTop, page.Bounds.Right - left);
        return page;
    }

    private static void DrawKey(EmbeddedFontContext context, double left, double top)
    {
        Bar(context, left, left + 34, top + 4, 11, HouseStyle.Data, HouseStyle.Data);
        context.Text(left + 42, top, "findings", HouseStyle.Note);
        Bar(context, left + 120, left + 154, top + 6, 7, HouseStyle.Paper, HouseStyle.Ink);
        context.Text(left + 162, top, "fixed thresholds on the same runs; to the right: found of judged, in brackets by fixed thresholds", HouseStyle.Note);
    }

    private static void DrawScale(EmbeddedFontContext context, double bottom)
    {
        for (var share = 0; share <= 4; share++)
        {
            var x = BarLeft + ((BarRight - BarLeft) * share / 4);
            context.DrawLine([new(x, BarTop - 6), new(x, bottom)], share == 0 ? HouseStyle.Axis : HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            context.Text(x, BarTop - 26, string.Create(CultureInfo.InvariantCulture, $"{25 * share} %"), HouseStyle.Tick, HorizontalAlignment.Center);
        }
    }

    private static void DrawRow(EmbeddedFontContext context, ScoreRow row, double top)
    {
        context.Text(BarLeft - 12, top + 4, row.Name, HouseStyle.Body, HorizontalAlignment.Right);
        var count = row.Judged == 0
            ? "none judged"
            : string.Create(CultureInfo.InvariantCulture, $"{row.Found} of {row.Judged} ({row.FoundByThresholds})");
        context.Text(BarRight + 12, top + 4, count, HouseStyle.Body);
        if (row.Judged > 0)
        {
            Bar(context, BarLeft, BarLeft + ((BarRight - BarLeft) * row.Found / row.Judged), top + 3, 13, HouseStyle.Data, HouseStyle.Data);
            Bar(context, BarLeft, BarLeft + ((BarRight - BarLeft) * row.FoundByThresholds / row.Judged), top + 18, 7, HouseStyle.Paper, HouseStyle.Ink);
        }
    }

    private static void DrawMeasures(EmbeddedFontContext context, IReadOnlyList<ScoreMeasure> measures, double top, double right)
    {
        const double findings = 360;
        const double thresholds = 590;
        context.Text(findings, top, "findings", HouseStyle.BodyStrong);
        context.Text(thresholds, top, "fixed thresholds", HouseStyle.BodyStrong);
        foreach (var measure in measures)
        {
            top += MeasureHeight;
            context.DrawLine([new(HouseStyle.PageMargin, top - 3), new(right, top - 3)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            context.Text(HouseStyle.PageMargin, top, measure.Name, HouseStyle.Body);
            context.Text(findings, top, measure.Findings, HouseStyle.Body);
            context.Text(thresholds, top, measure.Thresholds, HouseStyle.Body);
        }
    }

    private static void Bar(EmbeddedFontContext context, double left, double right, double top, double height, OxyColor fill, OxyColor line)
    {
        if (right > left)
        {
            context.DrawRectangle(new OxyRect(left, top, right - left, height), fill, line, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
        }
    }
}
