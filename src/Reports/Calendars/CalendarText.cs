using System.Globalization;
using System.Text;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;

namespace Vanehour.Reports.Calendars;

/// <summary>What the iCalendar files have in common: identities that stay, sequences that rise, whole days (RFC 5545).</summary>
internal static class CalendarText
{
    /// <summary>What goes before any work on a pump; trade, common practice.</summary>
    public const string BeforeWork = "PTO off, key out and locked out; vacuum and pressure bled to zero and the gauge read. The pump maker's manual comes first. Vanehour advises; it never controls.";

    // Of a line without its end (RFC 5545, 3.1).
    private const int MostOctets = 75;

    private static readonly DateTimeOffset SequenceFrom = new(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>An empty calendar.</summary>
    /// <param name="name">What it holds.</param>
    public static Ical.Net.Calendar New(string name) => new() { ProductId = $"-//Vanehour//{name}//EN", Method = "PUBLISH" };

    /// <summary>An event of whole days that takes nobody's time.</summary>
    /// <param name="uid">Its identity, the same in every file.</param>
    /// <param name="madeAt">When the file is made; the later, the higher the sequence.</param>
    /// <param name="first">Its first day.</param>
    /// <param name="days">How many days.</param>
    /// <param name="summary">What it is.</param>
    /// <param name="description">What there is to say.</param>
    /// <param name="location">Where.</param>
    /// <param name="isOff">Whether it is taken off again.</param>
    public static CalendarEvent Event(string uid, DateTimeOffset madeAt, DateOnly first, int days, string summary, string description, string location, bool isOff)
    {
        var end = first.AddDays(days);
        return new CalendarEvent
        {
            Uid = uid,
            DtStamp = new CalDateTime(madeAt.UtcDateTime, "UTC"),
            Sequence = (int)(madeAt - SequenceFrom).TotalSeconds,
            Start = new CalDateTime(first.Year, first.Month, first.Day),
            End = new CalDateTime(end.Year, end.Month, end.Day),
            Summary = Clean(summary),
            Description = Clean(description),
            Location = Clean(location),
            Status = isOff ? EventStatus.Cancelled : EventStatus.Confirmed,
            Transparency = TransparencyType.Transparent,
        };
    }

    /// <summary>The file's text.</summary>
    public static string Write(Ical.Net.Calendar calendar)
    {
        var text = new CalendarSerializer().SerializeToString(calendar) ?? throw new InvalidOperationException("The calendar could not be written.");

        // The library folds lines between the halves of a surrogate pair, which is no UTF-8 then; so they are folded anew.
        var folded = new StringBuilder(text.Length);
        foreach (var line in text.Replace("\r\n ", string.Empty, StringComparison.Ordinal).Split("\r\n", StringSplitOptions.RemoveEmptyEntries))
        {
            var octets = 0;
            foreach (var rune in line.EnumerateRunes())
            {
                if (octets + rune.Utf8SequenceLength > MostOctets)
                {
                    folded.Append("\r\n ");
                    octets = 1;
                }

                folded.Append(rune.ToString());
                octets += rune.Utf8SequenceLength;
            }

            folded.Append("\r\n");
        }

        return folded.ToString();
    }

    /// <summary>A name as part of an identity. Anything but letters, digits, dots, dashes and underscores is written as its code, so that no two names fall together.</summary>
    public static string Plain(string name) => string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_' ? c.ToString() : string.Create(CultureInfo.InvariantCulture, $"~{(int)c:X4}")));

    // Control characters but tab and line feed have no place in a text (RFC 5545, 3.3.11), and half a surrogate pair none in UTF-8.
    private static string Clean(string text) => string.Concat(text.ReplaceLineEndings("\n").EnumerateRunes().Select(r => Rune.IsControl(r) && r.Value is not ('\n' or '\t') ? "\uFFFD" : r.ToString()));
}
