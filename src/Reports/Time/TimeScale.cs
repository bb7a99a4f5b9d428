using OxyPlot.Axes;

namespace Vanehour.Reports.Time;

/// <summary>The time axis that the panels of a page share: instants in the yard's zone, as days on the axis.</summary>
internal sealed class TimeScale
{
    private readonly TimeZoneInfo zone;

    public TimeScale(TimeZoneInfo zone, DateTimeOffset from, DateTimeOffset asOf, DateTimeOffset to)
    {
        this.zone = zone;
        From = from;
        AsOf = asOf;
        To = to;
    }

    public DateTimeOffset From { get; }

    public DateTimeOffset AsOf { get; }

    public DateTimeOffset To { get; }

    public double Start => DaysOf(From);

    public double Now => DaysOf(AsOf);

    public double End => DaysOf(To);

    /// <summary>The name of the zone; UTC where the yard's own is not known on this machine.</summary>
    public string ZoneName => zone.Id;

    /// <summary>The zone by its IANA name, or UTC where the machine does not know it.</summary>
    public static TimeZoneInfo Zone(string? id) =>
        id is not null && TimeZoneInfo.TryFindSystemTimeZoneById(id, out var zone) ? zone : TimeZoneInfo.Utc;

    /// <summary>The local time of an instant.</summary>
    public DateTime LocalOf(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).DateTime;

    /// <summary>Where an instant lies on the axis, days.</summary>
    public double DaysOf(DateTimeOffset at) => DateTimeAxis.ToDouble(LocalOf(at));

    public bool Shows(DateTimeOffset at) => at >= From && at <= To;
}
