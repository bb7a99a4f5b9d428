using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>A row of the knowledge table: what a finding may mean, and how to tell.</summary>
public sealed record KnownCause
{
    public required Cause Cause { get; init; }

    /// <summary>Its share of the evidence before the other findings are looked at, above 0.</summary>
    public required double Weight { get; init; }

    /// <summary>On which side of what is wanted the value must lie for this cause.</summary>
    public FindingSide Side { get; init; }

    /// <summary>Findings on the same pump that speak for it.</summary>
    public required ImmutableArray<FindingKind> With { get; init; }

    /// <summary>Findings on the same pump that speak against it.</summary>
    public required ImmutableArray<FindingKind> Without { get; init; }

    /// <summary>The check that tells it apart.</summary>
    public required string Check { get; init; }

    /// <summary>Names of the cautions that go with the check.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>Where the row comes from.</summary>
    public required string Source { get; init; }
}
