using OxyPlot;
using OxyPlot.Axes;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>One page about one truck: head, service records, then panels that share one time axis, then what to know and the caution.</summary>
/// <remarks>
///     head: truck, pump, figures, findings
///     dates, service records
///     PTO hours | flow kept | vacuum reached | temperature | oil | wear and its forecast
///     dates, date of the limit in words, remarks
///     caution
/// </remarks>
public static class TruckReport
{
    internal const double PlotLeft = 80;
    internal const double PlotRight = 80;
    private const double TitleHeight = 24;
    private const double PanelGap = 8;
    private const int MostRemarkLines = 4;

    /// <summary>Draws the page as PNG. The same input gives the same bytes.</summary>
    /// <param name="data">What to draw.</param>
    /// <param name="options">How to draw it.</param>
    /// <returns>A PNG of 800 x 1100 layout units.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(TruckReportData data, ReportOptions options)
    {
        using var page = Draw(data, options);
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="data">What to draw.</param>
    /// <param name="options">How to draw it; <see cref="ReportOptions.Scale"/> has no meaning here.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(TruckReportData data, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(data, options, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(TruckReportData data, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();

        var scope = new TruckScope(data, options);
        var page = new Page(HouseStyle.PageWidth, HouseStyle.PageHeight, format ?? PageFormat.Pixels(options.Scale));
        var left = PlotLeft;
        var right = page.Bounds.Right - PlotRight;
        var top = TruckHeader.Draw(page, scope, options);
        PageFooter.Draw(page);

        var remarks = Remarks(page.Context, scope, page.Bounds.Width - (2 * HouseStyle.PageMargin));
        var foot = page.Bounds.Bottom - HouseStyle.PageMargin - PageFooter.Height - (remarks.Count * HouseStyle.Body.LineHeight) - 8;
        DrawRemarks(page.Context, remarks, foot);

        ServiceStrip.Draw(page, scope, new OxyRect(left, top, right - left, ServiceStrip.Height));
        top += ServiceStrip.Height;
        var bottom = foot - 26;
        DrawPanels(page, scope, left, right, top, bottom);
        DateRow.Draw(page.Context, scope.Time, scope.Ticks, left, right, bottom + 7, sayToday: true);
        return page;
    }

    internal static IReadOnlyList<Panel> Panels(TruckScope scope) =>
    [
        HoursPanel.Build(scope),
        FlowPanel.Build(scope),
        ReliefPanel.Build(scope),
        IndicatorPanel.TemperatureRise(scope),
        IndicatorPanel.OilUse(scope),
        WearPanel.Build(scope),
    ];

    /// <summary>Where the key of a panel starts, beside its title.</summary>
    internal static double KeyLeft(EmbeddedFontContext context, Panel panel) =>
        HouseStyle.PageMargin + context.Width(panel.Title, HouseStyle.PanelTitle) + 14;

    private static void DrawPanels(Page page, TruckScope scope, double left, double right, double top, double bottom)
    {
        var panels = Panels(scope);
        var height = bottom - top - (panels.Count * (TitleHeight + PanelGap));
        var shares = panels.Sum(p => p.Share);
        foreach (var panel in panels)
        {
            top += PanelGap;
            DrawTitle(page.Context, panel, page.Bounds.Right - HouseStyle.PageMargin, top);
            top += TitleHeight;
            var plot = new OxyRect(left, top, right - left, height * panel.Share / shares);
            page.Draw(panel.Model, plot, new OxyThickness(left, TitleHeight, page.Bounds.Right - right, PanelGap));
            Label(page.Context, scope, panel, plot);
            top += plot.Height;
        }
    }

    private static void DrawTitle(EmbeddedFontContext context, Panel panel, double right, double top)
    {
        context.Text(HouseStyle.PageMargin, top + 1, panel.Title, HouseStyle.PanelTitle);
        if (panel.Empty is null)
        {
            PanelKey.Draw(context, panel.Key, KeyLeft(context, panel), right, top + 3);
        }
    }

    private static void Label(EmbeddedFontContext context, TruckScope scope, Panel panel, OxyRect plot)
    {
        var middle = plot.Center.Y;
        context.Text(HouseStyle.PageMargin, middle, panel.AxisTitle, HouseStyle.Note, HorizontalAlignment.Center, VerticalAlignment.Top, -90);
        if (panel.RightAxisTitle is { } title)
        {
            context.Text(HouseStyle.PageWidth - HouseStyle.PageMargin + 4, middle, title, HouseStyle.Note, HorizontalAlignment.Center, VerticalAlignment.Bottom, -90);
        }

        var values = panel.Model.Axes.First(a => a.Position == AxisPosition.Left);
        var times = panel.Model.Axes.First(a => a.Position == AxisPosition.Bottom);
        if (panel.Empty is { } words)
        {
            var text = context.Shorten(words, HouseStyle.BodyStrong, plot.Width - 20);
            var x = (plot.Left + times.Transform(scope.Time.Now)) / 2;
            LabelPlacer.Place(
                context,
                plot,
                text,
                HouseStyle.BodyStrong,
                [
                    new(x, middle, HorizontalAlignment.Center, VerticalAlignment.Middle, true),
                    new(plot.Left + 10, middle, HorizontalAlignment.Left, VerticalAlignment.Middle, true),
                ]);
        }

        // Right of a panel without a right axis there is room for the label of a mark at its very end.
        var area = panel.RightAxisTitle is null ? new OxyRect(plot.Left, plot.Top, plot.Width + 40, plot.Height) : plot;
        foreach (var label in panel.Labels)
        {
            var y = values.Transform(label.Value);
            IEnumerable<LabelSpot> spots = label.Days is not { } days ? LineSpots(plot, y, label.LeftFirst)
                : label.RightOf ? RightSpots(times.Transform(days), y, plot)
                : PointSpots(times.Transform(days), y);
            LabelPlacer.Place(context, area, label.Text, label.Style, spots);
        }
    }

    // At the right end, where the future has no data; then at the left end; or the other way round.
    private static IEnumerable<LabelSpot> LineSpots(OxyRect plot, double y, bool leftFirst)
    {
        LabelSpot[] right =
        [
            new(plot.Right - 4, y - 3, HorizontalAlignment.Right, VerticalAlignment.Bottom, true),
            new(plot.Right - 4, y + 3, HorizontalAlignment.Right, VerticalAlignment.Top, true),
        ];
        LabelSpot[] left =
        [
            new(plot.Left + 4, y - 3, HorizontalAlignment.Left, VerticalAlignment.Bottom, true),
            new(plot.Left + 4, y + 3, HorizontalAlignment.Left, VerticalAlignment.Top, true),
        ];
        return leftFirst ? left.Concat(right) : right.Concat(left);
    }

    private static LabelSpot[] PointSpots(double x, double y) =>
    [
        new(x, y - 8, HorizontalAlignment.Center, VerticalAlignment.Bottom, true),
        new(x, y + 8, HorizontalAlignment.Center, VerticalAlignment.Top, true),
        new(x - 8, y - 6, HorizontalAlignment.Right, VerticalAlignment.Bottom, true),
        new(x + 8, y - 6, HorizontalAlignment.Left, VerticalAlignment.Bottom, true),
    ];

    private static IEnumerable<LabelSpot> RightSpots(double x, double y, OxyRect plot)
    {
        for (; y < plot.Bottom; y += HouseStyle.Label.Size / 2)
        {
            yield return new LabelSpot(x + 6, y, HorizontalAlignment.Left, VerticalAlignment.Middle, true);
        }
    }

    private static List<(string Text, TextStyle Style)> Remarks(EmbeddedFontContext context, TruckScope scope, double width)
    {
        var lines = new List<(string, TextStyle)>();
        if (scope.Data.Wear is not { } wear)
        {
            return lines;
        }

        if (ForecastWords.NothingToDraw(wear) is null)
        {
            lines.AddRange(context.Wrap(ForecastWords.Limit(wear, scope.Time), HouseStyle.BodyStrong, width, 2).Select(l => (l, HouseStyle.BodyStrong)));
        }

        if (!wear.Remarks.IsDefaultOrEmpty)
        {
            lines.AddRange(context.Wrap(NumberWords.Thin(string.Join(' ', wear.Remarks)), HouseStyle.Note, width, MostRemarkLines).Select(l => (l, HouseStyle.Note)));
        }

        return lines;
    }

    private static void DrawRemarks(EmbeddedFontContext context, List<(string Text, TextStyle Style)> lines, double top)
    {
        foreach (var (text, style) in lines)
        {
            context.Text(HouseStyle.PageMargin, top, text, style);
            top += HouseStyle.Body.LineHeight;
        }
    }
}
