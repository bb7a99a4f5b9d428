using System.Globalization;

namespace Vanehour.Reports.Words;

/// <summary>Dates as people read them everywhere: the month by name, never by number.</summary>
internal static class DateWords
{
    public static string Day(DateTime date) => date.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    public static string DayAndMonth(DateTime date) => date.ToString("d MMM", CultureInfo.InvariantCulture);

    public static string MonthAndYear(DateTime date) => date.ToString("MMM yyyy", CultureInfo.InvariantCulture);

    public static string Month(DateTime date) => date.ToString("MMM", CultureInfo.InvariantCulture);

    public static string Year(DateTime date) => date.ToString("yyyy", CultureInfo.InvariantCulture);

    public static string DayAndTime(DateTime date) => date.ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
