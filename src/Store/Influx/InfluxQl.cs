using System.Globalization;

namespace Vanehour.Store.Influx;

/// <summary>Writes names, strings and instants in InfluxQL so that they are those and nothing else.</summary>
internal static class InfluxQl
{
    // The instants that nanoseconds in 64 bits can tell, in ms, rounded inwards to whole seconds.
    private const long EarliestMs = -9_223_372_036_000;
    private const long LatestMs = 9_223_372_036_000;

    /// <summary>A quoted identifier.</summary>
    public static string Identifier(string name) => $"\"{Escape(name, '"')}\"";

    /// <summary>A quoted string.</summary>
    public static string Text(string value) => $"'{Escape(value, '\'')}'";

    /// <summary>An instant given in Unix ms, moved into the range that the server can tell.</summary>
    public static string Instant(long ms) =>
        $"'{DateTimeOffset.FromUnixTimeMilliseconds(Math.Clamp(ms, EarliestMs, LatestMs)).ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)}'";

    private static string Escape(string text, char quote) => text
        .Replace("\\", "\\\\", StringComparison.Ordinal)
        .Replace(quote.ToString(), $"\\{quote}", StringComparison.Ordinal)
        .Replace("\n", "\\n", StringComparison.Ordinal);
}
