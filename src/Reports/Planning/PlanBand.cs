using OxyPlot;
using Vanehour.Models.Planning;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Planning;

/// <summary>Some weeks of a plan: a column a week, a row of places a yard.</summary>
internal sealed class PlanBand(EmbeddedFontContext context, PlanReportData data, int from, int across, double left, double right)
{
    private const double YardWidth = 116;
    private const double HeadHeight = 40;
    private const double RowHeight = 26;
    private const double RowGap = 10;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    private readonly double column = (right - left - YardWidth) / across;

    /// <returns>The foot of it.</returns>
    public double Draw(double top)
    {
        var plan = data.Plan;
        var weeks = Math.Min(across, plan.HorizonWeeks - from);
        var y = top + HeadHeight;
        for (var i = 0; i < weeks; i++)
        {
            var week = plan.FirstWeek.Plus(from + i);
            var middle = LeftOf(i) + (column / 2);
            context.Text(middle, top, week.ToString()[5..], HouseStyle.Label, HorizontalAlignment.Center);
            context.Text(middle, top + 18, DateWords.DayAndMonth(week.Monday.ToDateTime(TimeOnly.MinValue)), HouseStyle.Small, HorizontalAlignment.Center);
        }

        foreach (var yard in data.Yards.Order(StringComparer.Ordinal))
        {
            y = DrawYard(yard, weeks, y);
        }

        return y;
    }

    private double LeftOf(int i) => left + YardWidth + (i * column);

    private double DrawYard(string yard, int weeks, double top)
    {
        var plan = data.Plan;
        var slots = data.Options.SlotsOf(yard);
        var jobs = plan.Jobs.Where(j => j.Yard == yard).ToLookup(j => j.Week);
        var rows = Math.Max(1, Math.Max(Math.Min(slots, 4), Enumerable.Range(from, weeks).Max(w => jobs[plan.FirstWeek.Plus(w)].Count())));
        var height = (rows * RowHeight) + RowGap;
        context.DrawLine([new(left, top), new(right, top)], HouseStyle.Grid, HouseStyle.HairLine, Edges);
        context.Text(left, top + 8, context.Shorten(yard, HouseStyle.Label, YardWidth - 10), HouseStyle.Label);
        for (var i = 0; i < weeks; i++)
        {
            var week = plan.FirstWeek.Plus(from + i);
            var blocked = data.Marks.Any(m => m.Kind == PlanMarkKind.Block && m.Truck is null && m.Covers(week) && (m.Yard is null || m.Yard == yard));
            var placed = jobs[week].ToList();
            for (var row = 0; row < Math.Max(placed.Count, Math.Min(rows, slots)); row++)
            {
                var box = new OxyRect(LeftOf(i) + 3, top + (RowGap / 2) + (row * RowHeight) + 1, column - 6, RowHeight - 4);
                if (row < placed.Count)
                {
                    JobChip.Draw(context, box, placed[row], data.Options.HighChance);
                }
                else if (blocked)
                {
                    PlanKey.Blocked(context, box);
                }
                else
                {
                    PlanKey.Free(context, box);
                }
            }
        }

        return top + height;
    }
}
