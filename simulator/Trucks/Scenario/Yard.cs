using Vanehour.Fleet.Units;

namespace Vanehour.Simulator.Scenario;

/// <summary>An invented yard.</summary>
/// <param name="Number">Its number, the key of its weather.</param>
/// <param name="Name">Its name.</param>
/// <param name="TimeZone">IANA time zone.</param>
/// <param name="StandardOffsetH">Hours of its standard time from UTC; only the daily temperature wave uses it.</param>
/// <param name="ElevationM">Elevation above sea level, m.</param>
/// <param name="MeanTempC">Mean temperature of the year, Cel.</param>
/// <param name="SeasonAmplitudeK">Half the swing from winter to summer, K.</param>
internal sealed record Yard(
    int Number, string Name, string TimeZone, double StandardOffsetH, double ElevationM, double MeanTempC, double SeasonAmplitudeK)
{
    public static readonly Yard Shoreline = new(0, "Shoreline", "America/New_York", -5, 12, 12.5, 12);
    public static readonly Yard Prairie = new(1, "Prairie", "America/Chicago", -6, 290, 11, 14);
    public static readonly Yard Highland = new(2, "Highland", "America/Denver", -7, 1610, 10, 12.5);

    public static readonly IReadOnlyList<Yard> All = [Shoreline, Prairie, Highland];

    /// <summary>Standard atmosphere at the yard, kPa absolute.</summary>
    public double StandardPressureKPa { get; } = StandardAtmosphere.AtElevation(Length.FromMetres(ElevationM)).Kilopascals;

    public TimeZoneInfo Zone { get; } = TimeZoneInfo.FindSystemTimeZoneById(TimeZone);

    /// <summary>The instant of a local time of day.</summary>
    /// <param name="date">The local date.</param>
    /// <param name="secondOfDay">Seconds after local midnight by the clock, 0 to 86 399; not in an hour that a clock change skips.</param>
    public DateTimeOffset At(DateOnly date, int secondOfDay)
    {
        var local = date.ToDateTime(TimeOnly.MinValue).AddSeconds(secondOfDay);
        return new DateTimeOffset(local, Zone.GetUtcOffset(local));
    }

    /// <summary>The local date of an instant.</summary>
    public DateOnly DateOf(DateTimeOffset at) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, Zone).DateTime);
}
