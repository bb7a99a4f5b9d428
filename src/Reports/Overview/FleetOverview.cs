using OxyPlot;
using Vanehour.Fleet;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Overview;

/// <summary>
/// The fleet on as many pages as it needs: one row for each truck in service, what needs doing first on top. Rows stay tall enough to read in print
/// and on a phone, so a large fleet gets more pages, not smaller type: up to 20 trucks on a page.
/// </summary>
public static class FleetOverview
{
    /// <summary>The most trucks on one page.</summary>
    public const int TrucksPerPage = 20;

    private const double HeadEnd = 192;
    private const double TallestRow = 66;

    // The dates reach as far as the latest forecast on the pages, within these; chosen.
    private const double NearestHorizonDays = 183;
    private const double FarthestHorizonDays = 730;

    /// <summary>Draws the pages as PNG, the first first; a fleet without trucks gets one page that says so. The same input gives the same bytes.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="trucks">The register's trucks.</param>
    /// <param name="options">How to draw; <see cref="ReportOptions.From"/> has no meaning here.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static IReadOnlyList<byte[]> Render(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks, ReportOptions options)
    {
        var pages = new List<byte[]>();
        foreach (var page in Draw(snapshot, trucks, options))
        {
            using (page)
            {
                pages.Add(page.ToPng());
            }
        }

        return pages;
    }

    /// <summary>Draws the pages as SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same texts.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="trucks">The register's trucks.</param>
    /// <param name="options">How to draw; <see cref="ReportOptions.From"/> and <see cref="ReportOptions.Scale"/> have no meaning here.</param>
    /// <param name="caption">Its ids and its words; later pages get their number added to the prefix and to the title.</param>
    public static IReadOnlyList<string> RenderSvg(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        var pages = new List<string>();
        foreach (var page in Draw(snapshot, trucks, options, PageFormat.Vector))
        {
            using (page)
            {
                pages.Add(page.ToSvg(pages.Count == 0 ? caption : caption.OfPage(pages.Count + 1)));
            }
        }

        return pages;
    }

    internal static IEnumerable<Page> Draw(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();
        return DrawPages(snapshot, trucks, options, format ?? PageFormat.Pixels(options.Scale));
    }

    internal static string Summary(IReadOnlyList<FleetRow> rows, DateTimeOffset asOf)
    {
        var stop = rows.Count(r => r.MustStop);
        var soon = rows.Count(r => r.Limit is { } at && (at - asOf).TotalDays <= 90);
        var without = rows.Count(r => r.Wear is null or { Status: ForecastStatus.NoChecks or ForecastStatus.TooFewChecks });
        var trucks = rows.Count == 1 ? "1 truck" : $"{NumberWords.Whole(rows.Count)} trucks";
        return $"{trucks} · {NumberWords.Whole(stop)} to stop now · {NumberWords.Whole(soon)} likely at the limit within 90 days · {NumberWords.Whole(without)} without a forecast";
    }

    private static IEnumerable<Page> DrawPages(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks, ReportOptions options, PageFormat format)
    {
        var rows = FleetRow.Of(snapshot, trucks);
        var time = Dates(snapshot, rows);
        var count = Math.Max(1, (rows.Count + TrucksPerPage - 1) / TrucksPerPage);
        var perPage = (rows.Count + count - 1) / count;
        for (var number = 1; number <= count; number++)
        {
            var page = new Page(HouseStyle.PageWidth, HouseStyle.PageHeight, format);
            var left = trucks.Count - rows.Count;
            DrawHead(page, rows, time, options, left, count == 1 ? string.Empty : $", page {NumberWords.Whole(number)} of {NumberWords.Whole(count)}");
            PageFooter.Draw(page);
            DrawRows(page, [.. rows.Skip((number - 1) * perPage).Take(perPage)], time);
            yield return page;
        }
    }

    private static TimeScale Dates(AnalysisSnapshot snapshot, IReadOnlyList<FleetRow> rows)
    {
        var zones = rows.Select(r => r.Truck.TimeZone).Distinct(StringComparer.Ordinal).ToList();
        var last = rows
            .Select(r => r.Wear?.DateOfLimit)
            .Select(d => d?.P90 ?? d?.P50 ?? d?.P10)
            .Where(t => t is not null)
            .Max();
        var days = last is { } at ? (at - snapshot.AsOf).TotalDays * 1.05 : 0;
        var end = snapshot.AsOf.AddDays(Math.Clamp(days, NearestHorizonDays, FarthestHorizonDays));
        return new TimeScale(TimeScale.Zone(zones.Count == 1 ? zones[0] : null), snapshot.AsOf, snapshot.AsOf, end);
    }

    private static void DrawHead(Page page, IReadOnlyList<FleetRow> rows, TimeScale time, ReportOptions options, int leftOut, string pageWords)
    {
        var context = page.Context;
        var left = HouseStyle.PageMargin;
        var right = page.Bounds.Right - HouseStyle.PageMargin;
        var titleEnd = SimulatedMark.Draw(context, options, right, HouseStyle.PageMargin);
        context.Text(left, 18, context.Shorten("Fleet overview" + pageWords, HouseStyle.PageTitle, titleEnd - left), HouseStyle.PageTitle);

        context.Text(left, 54, context.Shorten(Summary(rows, time.AsOf), HouseStyle.BodyStrong, right - left), HouseStyle.BodyStrong);
        var outside = leftOut > 0 ? $" · {NumberWords.Whole(leftOut)} out of service left out" : string.Empty;
        var zones = rows.Select(r => r.Truck.TimeZone).Distinct(StringComparer.Ordinal).Count();
        var dates = zones > 1 ? $"{time.ZoneName} · dates in each truck's own time zone" : $"· dates in {time.ZoneName}";
        var asOf = $"As of {DateWords.DayAndTime(time.LocalOf(time.AsOf))} {dates}{outside}";
        context.Text(left, 76, context.Shorten(asOf, HouseStyle.Note, right - left), HouseStyle.Note);
        FleetKey.Draw(context, left, 97);
    }

    private static void DrawRows(Page page, List<FleetRow> rows, TimeScale time)
    {
        var context = page.Context;
        var right = page.Bounds.Right - HouseStyle.PageMargin;
        var bottom = page.Bounds.Bottom - HouseStyle.PageMargin - PageFooter.Height - 26;
        var height = rows.Count == 0 ? TallestRow : Math.Min(TallestRow, (bottom - HeadEnd) / rows.Count);
        var end = HeadEnd + (height * rows.Count);
        for (var i = 1; i < rows.Count; i += 2)
        {
            var top = HeadEnd + (i * height);
            context.DrawRectangle(
                new OxyRect(HouseStyle.PageMargin - 6, top, right - HouseStyle.PageMargin + 12, height),
                HouseStyle.Ahead,
                OxyColors.Undefined,
                0,
                EdgeRenderingMode.Automatic);
        }

        FleetGrid.Draw(context, time, HeadEnd, end, right);
        if (rows.Count == 0)
        {
            context.Text(HouseStyle.PageMargin, HeadEnd + 16, "No trucks in service in the register.", HouseStyle.BodyStrong);
        }

        var drawing = new FleetRowDrawing(context, time);
        for (var i = 0; i < rows.Count; i++)
        {
            drawing.Draw(rows[i], HeadEnd + (i * height), height);
        }
    }
}
