using System.Collections.Immutable;

namespace Vanehour.Models.MixedEffects;

/// <summary>
/// What to fit: y = X b + Z u + e. Each group has its own u, drawn from a normal distribution with mean 0 and an unstructured covariance; e has one scale for all rows.
/// </summary>
public sealed record MixedProblem
{
    /// <summary>Names of the columns of X, without the constant.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>The rows of X, each as long as <see cref="Columns"/>.</summary>
    public required IReadOnlyList<double[]> Rows { get; init; }

    /// <summary>The responses, one for each row.</summary>
    public required IReadOnlyList<double> Responses { get; init; }

    /// <summary>The group of each row, in any order.</summary>
    public required IReadOnlyList<string> Groups { get; init; }

    /// <summary>Whether a constant is fitted as the first fixed effect.</summary>
    public bool Intercept { get; init; } = true;

    /// <summary>Whether each group has its own constant.</summary>
    public bool RandomIntercept { get; init; } = true;

    /// <summary>Positions, among <see cref="Columns"/>, of those whose slope differs between groups.</summary>
    public ImmutableArray<int> RandomSlopes { get; init; } = [];
}
