using OxyPlot;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>The labels of a time axis.</summary>
internal static class DateRow
{
    /// <summary>Where an instant lies between the ends of a time axis, layout units.</summary>
    public static double XOf(TimeScale time, DateTimeOffset at, double left, double right) => XOf(time, time.DaysOf(at), left, right);

    public static void Draw(
        EmbeddedFontContext context,
        TimeScale time,
        IReadOnlyList<TimeTick> ticks,
        double left,
        double right,
        double top,
        bool sayToday)
    {
        var area = new OxyRect(left - 30, top - 1, right - left + 60, HouseStyle.Tick.Size + 6);
        if (sayToday)
        {
            var x = XOf(time, time.Now, left, right);
            LabelPlacer.Place(
                context,
                area,
                "as of " + DateWords.DayAndMonth(time.LocalOf(time.AsOf)),
                HouseStyle.Label,
                [new(x, top, HorizontalAlignment.Center), new(x, top, HorizontalAlignment.Right), new(right + 30, top, HorizontalAlignment.Right)]);
        }

        foreach (var tick in ticks)
        {
            LabelSpot[] spots = [new(XOf(time, tick.Days, left, right), top, HorizontalAlignment.Center)];
            _ = LabelPlacer.Place(context, area, tick.Label, HouseStyle.Tick, spots)
                ?? LabelPlacer.Place(context, area, tick.Brief, HouseStyle.Tick, spots);
        }
    }

    private static double XOf(TimeScale time, double days, double left, double right) =>
        left + ((days - time.Start) / (time.End - time.Start) * (right - left));
}
