using System.Globalization;

namespace Vanehour.Reports.Words;

/// <summary>A field of a CSV file.</summary>
public static class CsvField
{
    /// <summary>The text as a field: quoted where it must be, and harmless to a spreadsheet, which takes what starts like a formula for one.</summary>
    public static string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var safe = text is ['=' or '+' or '@', ..] && !double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\r\n") < 0 ? safe : '"' + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + '"';
    }
}
