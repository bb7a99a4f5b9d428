using System.Collections.Immutable;

namespace Vanehour.Scoring.Policies;

/// <summary>Policies compared on one fleet.</summary>
public sealed record PolicyStudyResult
{
    /// <summary>The policies, in the order of <see cref="PolicyName"/>.</summary>
    public required ImmutableArray<PolicyCost> Policies { get; init; }

    /// <summary>Share of the cost of the best fixed interval that the plan saves, with 95 % limits from resampling trucks.</summary>
    public required ShareSaved SavedOfFixedInterval { get; init; }

    /// <summary>The same of the best fixed interval that keeps the maker's limit; null where none of those tried does.</summary>
    public required ShareSaved? SavedOfFixedIntervalInLimit { get; init; }

    /// <summary>The same of the best fixed intervals by model.</summary>
    public required ShareSaved SavedOfFixedIntervalByModel { get; init; }

    /// <summary>Truck-years gone through.</summary>
    public required double TruckYears { get; init; }

    /// <summary>Plans made.</summary>
    public required int Plans { get; init; }

    /// <summary>Whether the costs are still the invented examples.</summary>
    public required bool CostsAreExamples { get; init; }
}
