using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Vanehour.Models.Regression;

/// <summary>The result of a weighted linear least-squares fit.</summary>
public sealed record LinearFit
{
    /// <summary><see cref="FitStatus.Converged"/>, or <see cref="FitStatus.Degenerate"/> with a <see cref="Reason"/>.</summary>
    public required FitStatus Status { get; init; }

    /// <summary>Why there is no fit and what to try; null where there is one.</summary>
    public string? Reason { get; init; }

    /// <summary>Position, among the problem's columns, of the one that stands in the way of a fit; null where there is none.</summary>
    public int? OffendingColumn { get; init; }

    /// <summary>Whether the first coefficient is the constant.</summary>
    public required bool Intercept { get; init; }

    /// <summary>Estimates with standard errors, the constant first; empty without a fit.</summary>
    public required ImmutableArray<Coefficient> Coefficients { get; init; }

    /// <summary>Covariance of the coefficients, row by row, as many rows as coefficients; empty without a fit.</summary>
    public required ImmutableArray<double> Covariance { get; init; }

    /// <summary>Residual standard deviation of an observation of weight 1, in the unit of the response; NaN without a fit.</summary>
    public required double ResidualScale { get; init; }

    /// <summary>Rows used.</summary>
    public required int Observations { get; init; }

    /// <summary>Observations less coefficients and absorbed parameters.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Weighted R squared, about the mean with a constant, else about 0; NaN without a fit or without variation.</summary>
    public required double RSquared { get; init; }

    /// <summary>Covariance of two coefficients by position.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such coefficient.</exception>
    public double CovarianceOf(int row, int column)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(row);
        ArgumentOutOfRangeException.ThrowIfNegative(column);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(row, Coefficients.Length);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(column, Coefficients.Length);
        return Covariance[(row * Coefficients.Length) + column];
    }

    /// <summary>
    /// Predicts a new observation of weight w at x: mean x'b, variance s2 (1/w + x'(X'WX)^-1 x), Student's t quantiles.
    /// </summary>
    /// <param name="x">The predictors in the order of the problem's columns, without the constant.</param>
    /// <param name="weight">Weight of the new observation, above 0.</param>
    /// <param name="level">Level of the interval, between 0 and 1.</param>
    /// <exception cref="InvalidOperationException">There is no fit.</exception>
    /// <exception cref="ArgumentException">The wrong number of predictors, or a weight or level out of range.</exception>
    public Prediction Predict(ReadOnlySpan<double> x, double weight, double level)
    {
        if (Status != FitStatus.Converged)
        {
            throw new InvalidOperationException(Reason);
        }

        var first = Intercept ? 1 : 0;
        if (x.Length != Coefficients.Length - first)
        {
            throw new ArgumentException($"{Coefficients.Length - first} predictors are needed, not {x.Length}.", nameof(x));
        }

        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(weight);
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "The level must lie between 0 and 1.");
        }

        var mean = 0.0;
        var variance = ResidualScale * ResidualScale / weight;
        for (var i = 0; i < Coefficients.Length; i++)
        {
            var xi = i < first ? 1 : x[i - first];
            mean += Coefficients[i].Estimate * xi;
            for (var j = 0; j < Coefficients.Length; j++)
            {
                variance += xi * CovarianceOf(i, j) * (j < first ? 1 : x[j - first]);
            }
        }

        var se = Math.Sqrt(Math.Max(variance, 0));
        var half = StudentT.InvCDF(0, 1, DegreesOfFreedom, 0.5 + (level / 2)) * se;
        return new Prediction(mean, se, mean - half, mean + half);
    }
}
