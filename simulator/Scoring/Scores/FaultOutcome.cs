using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>What became of one fault that is judged.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Story">The first finding that finds it; null where none did.</param>
/// <param name="Rank">Place of the true cause in that finding when it opened, from 1; null where it is not listed or nothing was found.</param>
/// <param name="LastRank">The same at the last analysis at which the finding was open.</param>
public sealed record FaultOutcome(TruthFault Fault, FindingStory? Story, int? Rank, int? LastRank)
{
    /// <summary>Whether a finding of the right kind opened.</summary>
    public bool IsFound => Story is not null;

    /// <summary>Whether it opened before harm was done.</summary>
    public bool IsFoundBeforeHarm => Story is not null && !(Fault.HarmAt < Story.OpenedAt);

    /// <summary>Hours from the finding to harm; null where none was done or nothing was found. Below 0: too late.</summary>
    public double? LeadH => Fault.HarmAt is { } harm && Story is { } story ? (harm - story.OpenedAt).TotalHours : null;

    /// <summary>Hours from the onset to the finding; below 0 where worn vanes were seen coming.</summary>
    public double? DelayH => Story is { } story ? (story.OpenedAt - Fault.Onset).TotalHours : null;
}
