using Vanehour.Fleet;

namespace Vanehour.Scoring;

/// <summary>What became of one fault that is judged.</summary>
public sealed record FaultOutcome
{
    public required string Truck { get; init; }

    public required Cause Cause { get; init; }

    public required DateTimeOffset Onset { get; init; }

    public DateTimeOffset? Ends { get; init; }

    /// <summary>When it did harm, or null.</summary>
    public DateTimeOffset? HarmAt { get; init; }

    /// <summary>0..1.</summary>
    public required double Severity { get; init; }

    public required bool Serious { get; init; }

    /// <summary>The first finding that finds it; null where none did.</summary>
    public FindingStory? Story { get; init; }

    /// <summary>Place of the true cause in that finding when it opened, from 1; null where it is not listed or nothing was found.</summary>
    public int? Rank { get; init; }

    /// <summary>The same at the last analysis at which the finding was open.</summary>
    public int? LastRank { get; init; }

    /// <summary>Whether a finding of the right kind opened.</summary>
    public bool IsFound => Story is not null;

    /// <summary>Whether it opened before harm was done.</summary>
    public bool IsFoundBeforeHarm => Story is not null && !(HarmAt < Story.OpenedAt);

    /// <summary>Hours from the finding to harm; null where none was done or nothing was found. Below 0: too late.</summary>
    public double? LeadH => HarmAt is { } harm && Story is { } story ? (harm - story.OpenedAt).TotalHours : null;

    /// <summary>Hours from the onset to the finding; below 0 where worn vanes were seen coming.</summary>
    public double? DelayH => Story is { } story ? (story.OpenedAt - Onset).TotalHours : null;
}
