using Vanehour.Models.Findings;

namespace Vanehour.Models.Rounds;

/// <summary>One recurring check on one truck: when it is due and why.</summary>
public sealed record RoundItem
{
    public required string Truck { get; init; }

    /// <summary>The check as this fleet does it.</summary>
    public required RoundCheck Check { get; init; }

    /// <summary>Whether the register does not say that the truck has what is checked.</summary>
    public required bool IfFitted { get; init; }

    public required RoundState State { get; init; }

    /// <summary>Whether by its own rhythm it is overdue, pulled forward or not.</summary>
    public required bool IsOverdue { get; init; }

    /// <summary>The beginning of the local day on which it is due, by whatever comes first; null where that is not known or not asked.</summary>
    public DateTimeOffset? DueAt { get; init; }

    /// <summary>The local day of <see cref="DueAt"/>; null with it.</summary>
    public DateOnly? DueDay { get; init; }

    /// <summary>What makes it due then; null with <see cref="DueAt"/>.</summary>
    public RoundDueBy? DueBy { get; init; }

    /// <summary>The reading of the truck's meter at which it is due, h; null without an interval in hours, or where the meter is not known.</summary>
    public double? DueAtMeterH { get; init; }

    /// <summary>PTO hours left until it is due by hours, h; below 0 once they are over, null without an interval in hours.</summary>
    public double? HoursLeft { get; init; }

    /// <summary>When it was last done; null where nothing says so.</summary>
    public RoundDone? LastDone { get; init; }

    /// <summary>The local day of <see cref="LastDone"/>; null with it.</summary>
    public DateOnly? DoneDay { get; init; }

    /// <summary>Calendar days since it was last done, or since it was first expected; null where neither is known.</summary>
    public int? DaysSince { get; init; }

    /// <summary>Why it stands as it does, in a few words; null where its state says all.</summary>
    public string? Because { get; init; }

    /// <summary>The finding that pulls it forward.</summary>
    public Finding? Finding { get; init; }

    /// <summary>Stable name of what is due, for calendars: truck/check.</summary>
    public string Key => $"{Truck}/{Check.Key}";
}
