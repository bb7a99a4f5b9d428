using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Planning;

/// <summary>The rebuild plan: weeks across, yards down, a quarter under the other; below it what a planner must know besides.</summary>
public static class PlanReport
{
    private const double Width = 1100;
    private const double HeadEnd = 150;
    private const int WeeksAcross = 13;
    private const int MostLines = 3;
    private const int MostSentences = 8;

    /// <summary>Draws a PNG. The same input gives the same bytes.</summary>
    /// <param name="data">The plan.</param>
    /// <param name="options">How to draw; <see cref="ReportOptions.From"/> has no meaning here.</param>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(PlanReportData data, ReportOptions options)
    {
        using var page = Draw(data, options);
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="data">The plan.</param>
    /// <param name="options">How to draw it; <see cref="ReportOptions.Scale"/> has no meaning here.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(PlanReportData data, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(data, options, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(PlanReportData data, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();
        return Page.AsHighAs(Width, 0, format ?? PageFormat.Pixels(options.Scale), p => DrawBody(p, data, options));
    }

    internal static string Summary(RebuildPlan plan) =>
        $"{Counted(plan.Jobs.Length, "rebuild")} in {Counted(plan.HorizonWeeks, "week")} from {plan.FirstWeek} · expected cost {NumberWords.Whole(plan.Cost)}"
        + $" · {Counted(plan.Later.Length, "pump")} later{(plan.Stop.IsEmpty ? string.Empty : $" · {Counted(plan.Stop.Length, "truck")} to stop first")}";

    private static double DrawBody(Page page, PlanReportData data, ReportOptions options)
    {
        var context = page.Context;
        var plan = data.Plan;
        var left = HouseStyle.PageMargin;
        var right = Width - HouseStyle.PageMargin;
        var end = SimulatedMark.Draw(context, options, right, HouseStyle.PageMargin);
        context.Text(left, 18, context.Shorten("Rebuild plan", HouseStyle.PageTitle, end - left), HouseStyle.PageTitle);
        context.Text(left, 54, context.Shorten(Summary(plan), HouseStyle.BodyStrong, right - left), HouseStyle.BodyStrong);
        context.Text(
            left, 76, context.Shorten($"As of {DateWords.DayAndTime(plan.AsOf.UtcDateTime)} UTC{(plan.CostsAreExamples ? " · costs are invented examples, set your own" : string.Empty)}", HouseStyle.Note, right - left), HouseStyle.Note);
        PlanKey.Draw(context, left, 102, data.Options.HighChance);

        var top = HeadEnd;
        for (var from = 0; from < plan.HorizonWeeks; from += WeeksAcross)
        {
            top = new PlanBand(context, data, from, WeeksAcross, left, right).Draw(top) + 18;
        }

        return DrawSentences(context, plan, top, left, right);
    }

    private static double DrawSentences(EmbeddedFontContext context, RebuildPlan plan, double top, double left, double right)
    {
        (string Title, IReadOnlyList<string> Said)[] parts =
        [
            ("Stop first", [.. plan.Stop.Select(PlanWords.WithCaution)]),
            ("Capacity", [.. new[] { PlanWords.NoRoom(plan) }.OfType<string>(), .. plan.Prices.Select(PlanWords.Of), .. plan.Remarks]),
            ("Order", [.. plan.Orders.Select(o => PlanWords.Of(o, plan.FirstWeek))]),
            ("Changed", [.. plan.Moves.Select(PlanWords.Of)]),
        ];
        foreach (var (title, said) in parts.Where(p => p.Said.Count > 0))
        {
            context.Text(left, top, title, HouseStyle.PanelTitle);
            top += 24;
            foreach (var sentence in said.Take(MostSentences).Concat(said.Count > MostSentences ? [$"... and {said.Count - MostSentences} more: see 'vanehour plan'."] : []))
            {
                foreach (var line in context.Wrap(sentence, HouseStyle.Body, right - left - 12, MostLines))
                {
                    context.Text(left + 12, top, line, HouseStyle.Body);
                    top += HouseStyle.Body.LineHeight;
                }
            }

            top += 8;
        }

        foreach (var line in context.Wrap(PlanWords.Costs(plan.CostsAreExamples), HouseStyle.Small, right - left, 2))
        {
            context.Text(left, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }

        return top;
    }

    private static string Counted(int count, string one) => count == 1 ? $"1 {one}" : string.Create(CultureInfo.InvariantCulture, $"{NumberWords.Whole(count)} {one}s");
}
