namespace Vanehour.Models.Rounds;

/// <summary>Days of a truck's own time zone.</summary>
internal static class LocalDay
{
    /// <summary>The local day of an instant.</summary>
    public static DateOnly Of(DateTimeOffset at, TimeZoneInfo zone) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, zone).DateTime);

    /// <summary>The first instant of a local day; where a clock change skips or repeats midnight, the first there is.</summary>
    public static DateTimeOffset Start(DateOnly day, TimeZoneInfo zone)
    {
        var midnight = day.ToDateTime(TimeOnly.MinValue);
        var offset = zone.IsAmbiguousTime(midnight) ? zone.GetAmbiguousTimeOffsets(midnight).Max() : zone.GetUtcOffset(midnight);
        return new DateTimeOffset(midnight, offset).ToUniversalTime();
    }

    /// <summary>Whether an instant is the very beginning of a local day, as records with a date alone have it.</summary>
    public static bool IsStart(DateTimeOffset at, TimeZoneInfo zone) => at == Start(Of(at, zone), zone);
}
