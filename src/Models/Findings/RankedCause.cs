using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>A likely cause.</summary>
/// <param name="Cause">Which.</param>
/// <param name="Weight">Its share of the evidence, 0..1; the weights of a finding sum to 1.</param>
public sealed record RankedCause(Cause Cause, double Weight)
{
    /// <summary>Signs that stand where this cause puts them.</summary>
    public ImmutableArray<Sign> For { get; init; } = [];

    /// <summary>Signs that stand elsewhere.</summary>
    public ImmutableArray<Sign> Against { get; init; } = [];

    /// <inheritdoc/>
    public bool Equals(RankedCause? other) =>
        other is not null && Cause == other.Cause && Weight.Equals(other.Weight) && For.SequenceEqual(other.For) && Against.SequenceEqual(other.Against);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Cause, Weight);
}
