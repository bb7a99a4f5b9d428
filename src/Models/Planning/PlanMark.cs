namespace Vanehour.Models.Planning;

/// <summary>What a person has said about the plan.</summary>
public sealed record PlanMark
{
    /// <summary>Given by the book.</summary>
    public long Id { get; init; }

    public required PlanMarkKind Kind { get; init; }

    /// <summary>The first week it is about.</summary>
    public required PlanWeek From { get; init; }

    /// <summary>The last week it is about; of a pin the same as <see cref="From"/>.</summary>
    public required PlanWeek To { get; init; }

    /// <summary>The truck; null for a block of a yard or of all.</summary>
    public string? Truck { get; init; }

    /// <summary>The yard; null for a pin, and for a block of a truck or of all.</summary>
    public string? Yard { get; init; }

    public string? By { get; init; }

    public string? Note { get; init; }

    /// <summary>When it was said.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Whether a week is among those it is about.</summary>
    public bool Covers(PlanWeek week) => week >= From && week <= To;

    /// <summary>Its weeks, for people.</summary>
    public string Weeks => From == To ? From.ToString() : $"{From} to {To}";
}
