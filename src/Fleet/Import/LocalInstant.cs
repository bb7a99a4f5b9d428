using System.Globalization;

namespace Vanehour.Fleet.Import;

/// <summary>Reads ISO 8601 dates and date-times as people write them: without an offset they are local to a yard.</summary>
public static class LocalInstant
{
    private const int DateAndMinute = 16;
    private const int DateAndSecond = 19;
    private const int ShortestWithOffset = DateAndMinute + 1;

    private static readonly string[] WithOffset =
        ["yyyy-MM-dd'T'HH:mmzzz", "yyyy-MM-dd'T'HH:mm:sszzz", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz"];

    private static readonly string[] WithoutOffset =
    [
        "yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF",
        "yyyy-MM-dd' 'HH:mm", "yyyy-MM-dd' 'HH:mm:ss",
    ];

    /// <summary>
    /// Reads <paramref name="text"/>. A local time that a clock change skips counts by the offset before the change;
    /// one that a clock change repeats is the second, in standard time.
    /// </summary>
    public static bool TryParse(string text, TimeZoneInfo zone, out DateTimeOffset instant)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(zone);
        var normal = text.EndsWith('Z') ? string.Concat(text.AsSpan(0, text.Length - 1), "+00:00") : text;
        if (DateTimeOffset.TryParseExact(normal, WithOffset, CultureInfo.InvariantCulture, DateTimeStyles.None, out instant))
        {
            instant = instant.ToUniversalTime();
            return true;
        }

        if (DateTime.TryParseExact(normal, WithoutOffset, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local)
            && local.Year is > 1 and < 9999)
        {
            instant = new DateTimeOffset(local, zone.GetUtcOffset(local)).ToUniversalTime();
            return true;
        }

        instant = default;
        return false;
    }

    /// <summary>Reads a date-time that carries its offset, as 2026-03-09T07:30:00Z or 2026-03-09T07:30:00.5-05:00; nothing else.</summary>
    public static bool TryParseWithOffset(ReadOnlySpan<char> text, out DateTimeOffset instant)
    {
        instant = default;
        if (text.Length < ShortestWithOffset || !(text[^1] == 'Z' || (text[^6] is '+' or '-' && text[^3] == ':')))
        {
            return false;
        }

        // One format only: trying them all takes several times longer, and files have millions of rows.
        var end = text[^1] == 'Z' ? text.Length - 1 : text.Length - 6;
        var format = end == DateAndMinute ? "yyyy-MM-dd'T'HH:mmK" : end == DateAndSecond ? "yyyy-MM-dd'T'HH:mm:ssK" : "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK";
        return DateTimeOffset.TryParseExact(text, format, CultureInfo.InvariantCulture, DateTimeStyles.None, out instant);
    }
}
