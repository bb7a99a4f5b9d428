using OxyPlot.Axes;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Time;

/// <summary>Chooses the ticks of a time axis: round days, Mondays, first days of months or years.</summary>
internal static class TimeTicks
{
    private static readonly int[] MonthSteps = [1, 2, 3, 6, 12, 24, 60, 120];

    /// <summary>The finest round step that gives at most <paramref name="most"/> ticks from <paramref name="start"/> to <paramref name="end"/> (days on the axis).</summary>
    public static IReadOnlyList<TimeTick> Between(double start, double end, int most)
    {
        var days = end - start;
        foreach (var step in new[] { 1, 2, 7, 14 })
        {
            // A day's label is wider than a month's.
            if (days / step <= most * 0.8)
            {
                return ByDays(start, end, step);
            }
        }

        var months = MonthSteps.FirstOrDefault(s => days / (30.44 * s) <= most, MonthSteps[^1]);
        return ByMonths(start, end, months);
    }

    private static List<TimeTick> ByDays(double start, double end, int step)
    {
        var ticks = new List<TimeTick>();
        var day = DateTimeAxis.ToDateTime(start, TimeSpan.FromSeconds(1)).Date;
        while (step >= 7 && day.DayOfWeek != DayOfWeek.Monday)
        {
            day = day.AddDays(1);
        }

        var year = 0;
        for (; DateTimeAxis.ToDouble(day) <= end; day = day.AddDays(step))
        {
            if (DateTimeAxis.ToDouble(day) >= start)
            {
                ticks.Add(new TimeTick(DateTimeAxis.ToDouble(day), day.Year == year ? DateWords.DayAndMonth(day) : DateWords.Day(day), DateWords.DayAndMonth(day)));
                year = day.Year;
            }
        }

        return ticks;
    }

    private static List<TimeTick> ByMonths(double start, double end, int step)
    {
        var ticks = new List<TimeTick>();
        var first = DateTimeAxis.ToDateTime(start, TimeSpan.FromSeconds(1));
        var month = step >= 12
            ? new DateTime(first.Year - (first.Year % (step / 12)), 1, 1)
            : new DateTime(first.Year, 1, 1);
        var year = 0;
        for (; DateTimeAxis.ToDouble(month) <= end; month = month.AddMonths(step))
        {
            if (DateTimeAxis.ToDouble(month) >= start)
            {
                var label = step >= 12 ? DateWords.Year(month) : month.Year == year ? DateWords.Month(month) : DateWords.MonthAndYear(month);
                ticks.Add(new TimeTick(DateTimeAxis.ToDouble(month), label, month.Month == 1 ? DateWords.Year(month) : DateWords.Month(month)));
                year = month.Year;
            }
        }

        return ticks;
    }
}
