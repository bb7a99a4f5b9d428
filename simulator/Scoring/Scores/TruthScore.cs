using System.Collections.Immutable;
using Vanehour.Models.Findings;

namespace Vanehour.Scoring;

/// <summary>How the findings of one way of judging stand to the truth.</summary>
public sealed record TruthScore
{
    /// <summary>By kind of fault, in order of name.</summary>
    public required ImmutableArray<FaultScore> Faults { get; init; }

    /// <summary>All together.</summary>
    public required FaultScore All { get; init; }

    /// <summary>Share of judged faults that were found.</summary>
    public required ShareWithInterval Found { get; init; }

    /// <summary>Share of judged serious faults that were found before harm.</summary>
    public required ShareWithInterval SeriousBeforeHarm { get; init; }

    /// <summary>Share of found faults with the true cause ranked first when the finding opened.</summary>
    public required ShareWithInterval CauseFirst { get; init; }

    /// <summary>Share of found faults with the true cause among the first three.</summary>
    public required ShareWithInterval CauseInFirstThree { get; init; }

    /// <summary>Findings that the truth does not bear out, per year of a truck.</summary>
    public required ShareWithInterval FalsePerTruckYear { get; init; }

    /// <summary>How many findings the truth does not bear out, by kind.</summary>
    public required ImmutableSortedDictionary<FindingKind, int> FalseByKind { get; init; }

    /// <summary>How many findings opened, by kind: the base rate that a false share must be read against.</summary>
    public required ImmutableSortedDictionary<FindingKind, int> OpenedByKind { get; init; }

    /// <summary>How often a finding opened again after the data had closed it.</summary>
    public required int Reopened { get; init; }

    /// <summary>What became of each judged fault.</summary>
    public required ImmutableArray<FaultOutcome> Outcomes { get; init; }

    /// <summary>The findings that the truth does not bear out.</summary>
    public required ImmutableArray<FindingStory> False { get; init; }
}
