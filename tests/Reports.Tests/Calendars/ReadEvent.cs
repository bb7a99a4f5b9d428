using Ical.Net.CalendarComponents;

namespace Vanehour.Reports.Tests.Calendars;

/// <summary>An event as a parser has read it.</summary>
internal sealed record ReadEvent(string Uid, int Sequence, string Status, string Start, string End, string Summary, string Description, string Location)
{
    /// <summary>Reads with the library that wrote it.</summary>
    public static IReadOnlyList<ReadEvent> ByIcalNet(string text) =>
    [
        .. Ical.Net.Calendar.Load(text)!.Events.Select((CalendarEvent e) =>
        {
            Assert.NotNull(e.DtStamp);
            Assert.False(e.Start!.HasTime || e.End!.HasTime);
            return new ReadEvent(e.Uid!, e.Sequence, e.Status!, $"{e.Start.Date:yyyy-MM-dd}", $"{e.End.Date:yyyy-MM-dd}", e.Summary!, e.Description!, e.Location!);
        }),
    ];
}
