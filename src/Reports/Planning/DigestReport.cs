using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Planning;

/// <summary>The Monday digest as a page to print.</summary>
public static class DigestReport
{
    private const int MostLines = 3;
    private const int MostOfEach = 14;

    /// <summary>Draws a PNG. The same input gives the same bytes.</summary>
    /// <param name="digest">The digest.</param>
    /// <param name="options">How to draw; <see cref="ReportOptions.From"/> has no meaning here.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(MondayDigest digest, ReportOptions options)
    {
        using var page = Draw(digest, options);
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="digest">The digest.</param>
    /// <param name="options">How to draw it; <see cref="ReportOptions.Scale"/> has no meaning here.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(MondayDigest digest, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(digest, options, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(MondayDigest digest, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(digest);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();
        return Page.AsHighAs(HouseStyle.PageWidth, HouseStyle.PageHeight, format ?? PageFormat.Pixels(options.Scale), p => DrawBody(p, digest, options));
    }

    private static double DrawBody(Page page, MondayDigest digest, ReportOptions options)
    {
        var context = page.Context;
        var left = HouseStyle.PageMargin;
        var right = HouseStyle.PageWidth - HouseStyle.PageMargin;
        var end = SimulatedMark.Draw(context, options, right, HouseStyle.PageMargin);
        context.Text(left, 18, context.Shorten($"Week {digest.Week}", HouseStyle.PageTitle, end - left), HouseStyle.PageTitle);
        context.Text(left, 54, $"From {DateWords.Day(digest.Week.Monday.ToDateTime(TimeOnly.MinValue))} · as of {DateWords.DayAndTime(digest.AsOf.UtcDateTime)} UTC", HouseStyle.Note);
        (string Title, IReadOnlyList<string> Said)[] parts =
        [
            ("Stop first", [.. digest.Stop.Select(PlanWords.WithCaution)]),
            ("This week", [.. digest.ThisWeek.Select(PlanWords.Of)]),
            ("Next week", [.. digest.NextWeek.Select(PlanWords.Of)]),
            ("Order now", [.. digest.OrderNow.Select(o => PlanWords.Of(o, digest.Week))]),
            (digest.Since is { } since ? $"Changed since {DateWords.Day(since.UtcDateTime)}" : "Changed (no plan is a week old yet)", [.. digest.Moves.Select(PlanWords.Of)]),
            ("Findings that wait", [.. digest.Waiting.Select(w => string.Create(CultureInfo.InvariantCulture, $"{w.Truck}: {w.Kind} ({FindingWords.Of(w.Urgency)}) since {DateWords.Day(w.Since.UtcDateTime)}"))]),
            ("Not heard", [.. digest.Silent.Select(s => s.LastHeard is { } heard ? $"{s.Truck}, last {DateWords.DayAndTime(heard.UtcDateTime)} UTC" : $"{s.Truck}, never")]),
            ("To know", [.. digest.Remarks, .. digest.CostsAreExamples ? [PlanWords.Costs(areExamples: true)] : Array.Empty<string>()]),
        ];
        var top = 86.0;
        foreach (var (title, said) in parts.Where(p => p.Said.Count > 0 || p.Title != "To know"))
        {
            context.Text(left, top, title, HouseStyle.PanelTitle);
            top += 24;
            foreach (var sentence in said.Count == 0 ? ["Nothing."] : said.Take(MostOfEach).Concat(said.Count > MostOfEach ? [$"... and {said.Count - MostOfEach} more: see 'vanehour plan --digest'."] : []))
            {
                foreach (var line in context.Wrap(sentence, HouseStyle.Body, right - left - 12, MostLines))
                {
                    context.Text(left + 12, top, line, HouseStyle.Body);
                    top += HouseStyle.Body.LineHeight;
                }

                top += 3;
            }

            top += 8;
        }

        return top;
    }
}
