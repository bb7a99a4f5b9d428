using System.Globalization;

namespace Vanehour.Host.Output;

/// <summary>A day of a truck's own calendar, as 2026-03-09.</summary>
internal static class IsoDay
{
    public static string? Of(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
