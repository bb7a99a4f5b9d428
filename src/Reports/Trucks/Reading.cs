using OxyPlot;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Trucks;

/// <summary>One run's indicator in display units.</summary>
internal sealed record Reading(
    DateTimeOffset At,
    double Days,
    double Hours,
    double Seen,
    double? ExpectedLow,
    double? Expected,
    double? ExpectedHigh)
{
    public DataPoint Point => new(Days, Seen);

    public bool TooLow => Seen < ExpectedLow;

    public bool TooHigh => Seen > ExpectedHigh;

    public static Reading Of(
        TimeScale time,
        DateTimeOffset at,
        double hours,
        double seen,
        double? low,
        double? expected,
        double? high,
        Func<double, double> shown) =>
        new(
            at,
            time.DaysOf(at),
            double.IsFinite(hours) && hours > 0 ? hours : 0,
            shown(seen),
            Finite(low, shown),
            Finite(expected, shown),
            Finite(high, shown));

    private static double? Finite(double? value, Func<double, double> shown) => value is { } v && double.IsFinite(v) ? shown(v) : null;
}
