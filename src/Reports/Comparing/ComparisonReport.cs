using System.Globalization;
using OxyPlot;
using Vanehour.Models.Comparing;
using Vanehour.Models.Survival;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Comparing;

/// <summary>Pump models side by side: how long they last, whether a Weibull distribution fits, oil, wear and cost per hour, and what can be said of each pair.</summary>
public static class ComparisonReport
{
    private const double PlotLeft = 188;
    private const double HeadEnd = 104;
    private const double StripGap = 14;
    private const double LongestName = 170;
    private const int MostLines = 12;

    /// <summary>Draws a PNG. The same input gives the same bytes.</summary>
    /// <param name="data">What was compared.</param>
    /// <param name="options">How to draw; <see cref="ReportOptions.From"/> has no meaning here.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(ComparisonReportData data, ReportOptions options)
    {
        using var page = Draw(data, options);
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="data">What was compared.</param>
    /// <param name="options">How to draw it; <see cref="ReportOptions.Scale"/> has no meaning here.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(ComparisonReportData data, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(data, options, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(ComparisonReportData data, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();
        return Page.AsHighAs(HouseStyle.PageWidth, 0, format ?? PageFormat.Pixels(options.Scale), p => DrawBody(p, data, options));
    }

    internal static string Summary(ModelComparison comparison, IReadOnlyList<ComparedRow> rows)
    {
        var models = comparison.Lives.Models;
        return $"{Counted(models.Length, "pump model")} · {Counted(models.Sum(m => m.Lives), "life", "lives")} · {Counted(models.Sum(m => m.Failures), "failure")}"
            + (models.Length > rows.Count ? $" · the {rows.Count} with most lives are drawn" : string.Empty);
    }

    private static double DrawBody(Page page, ComparisonReportData data, ReportOptions options)
    {
        var context = page.Context;
        var right = HouseStyle.PageWidth - HouseStyle.PageMargin;
        var rows = ComparedRow.Of(data.Comparison);
        DrawHead(context, data, rows, options, right);
        if (rows.Count == 0)
        {
            context.Text(HouseStyle.PageMargin, HeadEnd + 12, "No pump life to compare yet: register trucks and record their rebuilds and failures.", HouseStyle.BodyStrong);
            return HeadEnd + 60;
        }

        var top = SurvivalPanel.Draw(context, rows, data.Options.Level, HeadEnd, PlotLeft, right);
        top = WeibullPanel.Draw(context, rows, data.Options, top + 18, right);
        top = DrawStrips(context, data, rows, options.Units, top + 16, right);
        return DrawVerdicts(context, data, rows, top + 16, right);
    }

    private static void DrawHead(EmbeddedFontContext context, ComparisonReportData data, IReadOnlyList<ComparedRow> rows, ReportOptions options, double right)
    {
        var left = HouseStyle.PageMargin;
        var end = SimulatedMark.Draw(context, options, right, HouseStyle.PageMargin);
        context.Text(left, 18, context.Shorten("Pump models compared", HouseStyle.PageTitle, end - left), HouseStyle.PageTitle);
        context.Text(left, 54, context.Shorten(Summary(data.Comparison, rows), HouseStyle.BodyStrong, right - left), HouseStyle.BodyStrong);
        var test = data.Comparison.Lives.LogRank is { P: { } p }
            ? $" · all alike in life? log-rank {VerdictWords.Chance(p)}"
            : string.Empty;
        context.Text(left, 76, context.Shorten($"As of {DateWords.DayAndTime(data.AsOf.UtcDateTime)} UTC · limits: {NumberWords.Percent(data.Options.Level)}{test}", HouseStyle.Note, right - left), HouseStyle.Note);
    }

    private static string Counted(int count, string one, string? many = null) => count == 1 ? $"1 {one}" : $"{NumberWords.Whole(count)} {many ?? one + "s"}";

    private static double DrawStrips(EmbeddedFontContext context, ComparisonReportData data, IReadOnlyList<ComparedRow> rows, DisplayUnits units, double top, double right)
    {
        var oil = DisplayUnits.SymbolOf(units.Oil);
        var cost = data.Options.CostsAreMoney ? "in money, so far" : "in planned rebuilds, so far";
        MeasureStrip[] strips =
        [
            new("Oil per PTO hour", $"{oil}/h, at the fleet's mean load", 2, [.. rows.Select(r => Scaled(r.Oil.Value, units.OilOf(1)))]),
            new("Wear per 1 000 PTO hours", "1 is the limit", 2, [.. rows.Select(r => r.Wear?.Value)]),
            new("Cost per 1 000 PTO hours", cost, data.Options.PlannedRebuildCost >= 100 ? 0 : 2, [.. rows.Select(r => Scaled(r.Cost.PerHour, 1000))]),
        ];
        context.Text(HouseStyle.PageMargin, top, "What an hour takes", HouseStyle.PanelTitle);
        top += 26;
        for (var i = 0; i < rows.Count; i++)
        {
            var y = top + 40 + ((i + 0.5) * MeasureStrip.RowHeight);
            rows[i].Style.DrawMark(context, HouseStyle.PageMargin + 8, y);
            context.Text(
                HouseStyle.PageMargin + 22, y, context.Shorten(rows[i].Name, HouseStyle.Tick, PlotLeft - HouseStyle.PageMargin - 34), HouseStyle.Tick, HorizontalAlignment.Left, VerticalAlignment.Middle);
        }

        var width = (right - PlotLeft - (2 * StripGap)) / strips.Length;
        for (var i = 0; i < strips.Length; i++)
        {
            strips[i].Draw(context, rows, top, PlotLeft + (i * (width + StripGap)), width);
        }

        top += 40 + (rows.Count * MeasureStrip.RowHeight) + 28;
        var notes = $"Open marks: too few pumps for limits. Cost: a failure counts as {data.Options.FailureCostRatio.ToString("0.##", CultureInfo.InvariantCulture)} planned rebuilds (a setting); lives and cost are not brought to one load. "
            + string.Join(' ', data.Comparison.Wear?.Remarks ?? []);
        foreach (var line in context.Wrap(notes, HouseStyle.Small, right - HouseStyle.PageMargin, 3))
        {
            context.Text(HouseStyle.PageMargin, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }

        return top;
    }

    private static EstimateWithLimits? Scaled(EstimateWithLimits? value, double by) => value is null ? null : new EstimateWithLimits(value.Low * by, value.Mid * by, value.High * by);

    private static double DrawVerdicts(EmbeddedFontContext context, ComparisonReportData data, IReadOnlyList<ComparedRow> rows, double top, double right)
    {
        context.Text(HouseStyle.PageMargin, top, "What can be said", HouseStyle.PanelTitle);
        top += 26;
        var paragraphs = VerdictWords.Of(data.Comparison, rows, name => context.Shorten(name, HouseStyle.Body, LongestName));
        if (paragraphs.Count == 0)
        {
            context.Text(HouseStyle.PageMargin, top, "There is one model only: nothing to compare it with.", HouseStyle.Body);
            return top + HouseStyle.Body.LineHeight;
        }

        const double indent = 52;
        foreach (var (about, said) in paragraphs)
        {
            context.Text(HouseStyle.PageMargin, top, about, HouseStyle.BodyStrong);
            foreach (var line in context.Wrap(said, HouseStyle.Body, right - HouseStyle.PageMargin - indent, MostLines))
            {
                context.Text(HouseStyle.PageMargin + indent, top, line, HouseStyle.Body);
                top += HouseStyle.Body.LineHeight;
            }

            top += 5;
        }

        foreach (var line in context.Wrap(
            string.Create(CultureInfo.InvariantCulture, $"p: Holm's correction over the pairs of each measure. Looked for: a factor of {data.Options.LifeRatio:0.##} in lives or rates, seen with a chance of {data.Options.Power:0 %}."),
            HouseStyle.Small,
            right - HouseStyle.PageMargin,
            2))
        {
            context.Text(HouseStyle.PageMargin, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }

        return top;
    }
}
