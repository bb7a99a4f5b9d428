using System.Collections.Immutable;
using Vanehour.Models.Regression;

namespace Vanehour.Models.MixedEffects;

/// <summary>The result of a linear mixed fit.</summary>
public sealed record MixedFit
{
    /// <summary>Without <see cref="FitStatus.Converged"/> there is a <see cref="Reason"/> and no estimate.</summary>
    public required FitStatus Status { get; init; }

    /// <summary>Why there is no fit and what to try; null where there is one.</summary>
    public string? Reason { get; init; }

    /// <summary>Position, among the problem's columns, of the one that stands in the way of a fit; null where there is none.</summary>
    public int? OffendingColumn { get; init; }

    public required MixedCriterion Criterion { get; init; }

    /// <summary>The fixed effects with standard errors, the constant first; the variances are taken as known. Empty without a fit.</summary>
    public ImmutableArray<Coefficient> Coefficients { get; init; } = [];

    /// <summary>Covariance of the fixed effects, row by row; empty without a fit.</summary>
    public ImmutableArray<double> Covariance { get; init; } = [];

    /// <summary>What differs between groups: "constant" first, then columns; empty without a fit.</summary>
    public ImmutableArray<string> RandomNames { get; init; } = [];

    /// <summary>Covariance of the random effects between groups, row by row, in the order of <see cref="RandomNames"/>; empty without a fit.</summary>
    public ImmutableArray<double> RandomCovariance { get; init; } = [];

    /// <summary>Whether some variance between groups, or of a combination of random effects, is estimated as exactly 0.</summary>
    public bool IsOnBoundary { get; init; }

    /// <summary>Standard deviation of a row about its own group, in the unit of the response; NaN without a fit.</summary>
    public double ResidualScale { get; init; } = double.NaN;

    /// <summary>The natural logarithm of the likelihood, restricted by <see cref="MixedCriterion.Reml"/>; NaN without a fit.</summary>
    public double LogLikelihood { get; init; } = double.NaN;

    /// <summary>Rows used.</summary>
    public required int Observations { get; init; }

    /// <summary>The groups' own effects, in order of their first rows; empty without a fit.</summary>
    public ImmutableArray<GroupEffect> Groups { get; init; } = [];

    /// <summary>What is doubtful, in plain sentences.</summary>
    public ImmutableArray<string> Warnings { get; init; } = [];

    /// <summary>Standard deviation of a random effect between groups, by position.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such random effect.</exception>
    public double RandomScale(int position)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)position, (uint)RandomNames.Length, nameof(position));
        return Math.Sqrt(RandomCovariance[(position * RandomNames.Length) + position]);
    }

    /// <summary>Correlation of two random effects between groups, by position; NaN where one does not vary.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such random effect.</exception>
    public double RandomCorrelation(int row, int column)
    {
        var scale = RandomScale(row) * RandomScale(column);
        return scale > 0 ? RandomCovariance[(row * RandomNames.Length) + column] / scale : double.NaN;
    }
}
