using System.Collections.Immutable;

namespace Vanehour.Models.Regression;

/// <summary>
/// The result of a nonlinear least-squares fit. Without <see cref="FitStatus.Converged"/> the numbers describe the last point reached and are
/// not estimates; standard errors, covariance and residual standard deviation are then NaN.
/// </summary>
public sealed record NonlinearFit
{
    public required FitStatus Status { get; init; }

    /// <summary>The parameters at the minimum, in the order of the starting values.</summary>
    public required ImmutableArray<double> Estimates { get; init; }

    /// <summary>Their standard errors: the square roots of the covariance's diagonal.</summary>
    public required ImmutableArray<double> StandardErrors { get; init; }

    /// <summary>The covariance of the estimates, s^2 (J'J)^-1 with s the residual standard deviation, row by row.</summary>
    public required ImmutableArray<double> Covariance { get; init; }

    /// <summary>sqrt(RSS / (n - p)), in the unit of y.</summary>
    public required double ResidualStandardDeviation { get; init; }

    /// <summary>The residual sum of squares, in the unit of y squared.</summary>
    public required double ResidualSumOfSquares { get; init; }

    /// <summary>How many observations were fitted.</summary>
    public required int Observations { get; init; }

    /// <summary>How many iterations the minimiser took, with those of the final refinement.</summary>
    public required int Iterations { get; init; }

    /// <summary>What to try next, in a plain sentence; empty after convergence.</summary>
    public required string Advice { get; init; }

    /// <summary>Observations less parameters.</summary>
    public int DegreesOfFreedom => Observations - Estimates.Length;

    /// <summary>The covariance of two estimates, by their positions.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Either position is outside the estimates.</exception>
    public double CovarianceOf(int row, int column)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)row, (uint)Estimates.Length, nameof(row));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)column, (uint)Estimates.Length, nameof(column));
        return Covariance[(row * Estimates.Length) + column];
    }
}
