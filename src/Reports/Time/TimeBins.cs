using OxyPlot.Axes;

namespace Vanehour.Reports.Time;

/// <summary>Divides a time axis into local days, weeks or months.</summary>
internal sealed class TimeBins
{
    private readonly TimeScale scale;

    /// <summary>Days up to about three months, weeks up to about three years, then months: so that a bar stays wide enough to see.</summary>
    public TimeBins(TimeScale scale)
    {
        this.scale = scale;
        Kind = (scale.AsOf - scale.From).TotalDays switch
        {
            <= 100 => BinKind.Day,
            <= 1100 => BinKind.Week,
            _ => BinKind.Month,
        };
    }

    public BinKind Kind { get; }

    /// <summary>The name of one bin: day, week or month.</summary>
    public string Name => Kind switch
    {
        BinKind.Day => "day",
        BinKind.Week => "week",
        _ => "month",
    };

    /// <summary>The name as an adjective: daily, weekly or monthly.</summary>
    public string Adjective => Kind switch
    {
        BinKind.Day => "daily",
        BinKind.Week => "weekly",
        _ => "monthly",
    };

    /// <summary>The local midnight at which the bin of an instant starts.</summary>
    public DateTime StartOf(DateTimeOffset at)
    {
        var day = scale.LocalOf(at).Date;
        return Kind switch
        {
            BinKind.Day => day,
            BinKind.Week => day.AddDays(-(((int)day.DayOfWeek + 6) % 7)),
            _ => new DateTime(day.Year, day.Month, 1),
        };
    }

    /// <summary>The local midnight at which a bin ends.</summary>
    public DateTime EndOf(DateTime start) => Kind switch
    {
        BinKind.Day => start.AddDays(1),
        BinKind.Week => start.AddDays(7),
        _ => start.AddMonths(1),
    };

    /// <summary>The middle of a bin on the axis, days.</summary>
    public double MiddleOf(DateTime start) => (DateTimeAxis.ToDouble(start) + DateTimeAxis.ToDouble(EndOf(start))) / 2;
}
