using System.Collections.Immutable;
using Vanehour.Models.Rounds;

namespace Vanehour.Reports.Words;

/// <summary>Rounds in a few words, as the sheet has room for them.</summary>
internal static class RoundWords
{
    /// <summary>The cautions of the knowledge table in the order in which they matter before hands go anywhere.</summary>
    public static readonly ImmutableArray<string> CautionOrder = ["LockOut", "Bleed", "Hot", "Rotating", "NoEntry", "Height", "Waste", "Loud"];

    /// <summary>The heading of a round with its rhythm, where its checks share one.</summary>
    public static string Heading(RoundKind round, IReadOnlyList<RoundItem> items)
    {
        var name = round switch
        {
            RoundKind.Daily => "Daily round: every day of work",
            RoundKind.Weekly => "Weekly round",
            RoundKind.Monthly => "Monthly round",
            _ => "By PTO hours",
        };
        return round != RoundKind.Daily && items.Select(i => (i.Check.Days, i.Check.Hours)).Distinct().Count() == 1 ? $"{name}: {Rhythm(items[0].Check)}" : name;
    }

    /// <summary>How often a check comes.</summary>
    public static string Rhythm(RoundCheck check) => (check.Days, check.Hours) switch
    {
        ({ } days, { } hours) => $"every {NumberWords.Whole(days)} days or {NumberWords.Whole(hours)} PTO h",
        ({ } days, null) => $"every {NumberWords.Whole(days)} days",
        (null, { } hours) => $"every {NumberWords.Whole(hours)} PTO h",
        _ => "once",
    };

    /// <summary>Whether the box is ticked as printed: seen in the data or marked on the day of the sheet.</summary>
    public static bool IsTicked(RoundItem item) => item.DaysSince == 0 && item.LastDone is not null && item.State != RoundState.PulledForward;

    /// <summary>When it was last done, and by whom or what.</summary>
    public static string Done(RoundItem item, TimeZoneInfo zone)
    {
        if (item is not { LastDone: { } done, DoneDay: { } day })
        {
            return "no record";
        }

        var date = Day(day);
        return done.Evidence == RoundEvidence.StartUpCheck
            ? item.DaysSince == 0 ? FormattableString.Invariant($"seen {TimeZoneInfo.ConvertTime(done.At, zone):HH:mm}") : $"seen {date}"
            : done.By is { } by ? $"{date}, {by}" : date;
    }

    /// <summary>When it is due.</summary>
    public static string Due(RoundItem item) => item.State switch
    {
        RoundState.PulledForward => "now",
        RoundState.NotKept => "not kept",
        RoundState.Resting => "at next start",
        RoundState.Overdue => item.DueDay is { } day ? $"OVERDUE {Day(day)}" : "OVERDUE",
        RoundState.Due when item.Check.Round == RoundKind.Daily => "today",
        _ when item.DueDay is null => item.State == RoundState.Due ? "today" : "with work",
        _ => $"{Day(item.DueDay!.Value)}{(item.DueBy == RoundDueBy.Hours && item.HoursLeft is > 0 and var left ? $", in {NumberWords.Whole(left)} h" : string.Empty)}",
    };

    private static string Day(DateOnly day) => DateWords.DayAndMonth(day.ToDateTime(TimeOnly.MinValue));
}
