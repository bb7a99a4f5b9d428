using System.Globalization;

namespace Vanehour.Fleet;

/// <summary>A truck's own time, as its yard's clock shows it.</summary>
public static class YardTime
{
    /// <summary>The zone of a name as the register has it; UTC where this machine does not know it.</summary>
    public static TimeZoneInfo Zone(string timeZone) => TimeZoneInfo.TryFindSystemTimeZoneById(timeZone, out var found) ? found : TimeZoneInfo.Utc;

    /// <summary>The truck's zone.</summary>
    public static TimeZoneInfo ZoneOf(Truck truck)
    {
        ArgumentNullException.ThrowIfNull(truck);
        return Zone(truck.TimeZone);
    }

    /// <summary>An instant as the yard writes it, without a time where it is midnight.</summary>
    public static string Text(Truck truck, DateTimeOffset at)
    {
        var local = TimeZoneInfo.ConvertTime(at, ZoneOf(truck));
        return local.ToString(local.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
    }
}
