using System.Collections.Immutable;

namespace Vanehour.Models.Findings;

/// <summary>What a rule found on one pump, before causes and checks are added.</summary>
/// <param name="Kind">What.</param>
/// <param name="Since">The first instant whose data shows it.</param>
/// <param name="IsPastLimit">Whether a limit of the pump model is passed, which makes it more urgent.</param>
/// <param name="Evidence">The numbers that speak for it.</param>
public sealed record FindingDraft(FindingKind Kind, DateTimeOffset Since, bool IsPastLimit, ImmutableArray<Evidence> Evidence)
{
    /// <summary>Which side, where the kind can mean both.</summary>
    public FindingSide Side { get; init; }

    /// <summary>What the watch of new samples saw, where it still counts: then it is to stop, whatever the kind.</summary>
    public WatchedLimit? Watched { get; init; }
}
