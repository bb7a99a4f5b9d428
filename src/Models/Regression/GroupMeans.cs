using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Vanehour.Models.Regression;

/// <summary>The means of several groups of independent units, with what is known of their errors.</summary>
public sealed record GroupMeans
{
    /// <summary>Mean of each group, in the units' unit; NaN where a group has no unit.</summary>
    public required ImmutableArray<double> Means { get; init; }

    /// <summary>Units in each group.</summary>
    public required ImmutableArray<int> Counts { get; init; }

    /// <summary>Covariance of the means, row by row; NaN where a group has no unit or nothing is left to tell errors by.</summary>
    public required ImmutableArray<double> Covariance { get; init; }

    /// <summary>Units less parameters; 0 where nothing is left to tell errors by.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Standard deviation of a unit about its group's mean, its own error included, in the units' unit; NaN without degrees of freedom.</summary>
    public required double UnitSd { get; init; }

    /// <summary>Standard error of a group's mean.</summary>
    public double StandardError(int group) => Math.Sqrt(Covariance[(group * Means.Length) + group]);

    /// <summary>Half the width of the t interval about a group's mean; NaN where there is none.</summary>
    /// <param name="group">The group.</param>
    /// <param name="level">Of the interval, above 0 and below 1.</param>
    public double HalfWidth(int group, double level) =>
        DegreesOfFreedom < 1 ? double.NaN : StudentT.InvCDF(0, 1, DegreesOfFreedom, (1 + level) / 2) * StandardError(group);

    /// <summary>Two-sided p of the t test that two groups have one mean; null where it cannot be told.</summary>
    public double? P(int a, int b)
    {
        var k = Means.Length;
        var variance = Covariance[(a * k) + a] + Covariance[(b * k) + b] - (2 * Covariance[(a * k) + b]);
        return DegreesOfFreedom >= 1 && variance > 0 && double.IsFinite(variance)
            ? 2 * StudentT.CDF(0, 1, DegreesOfFreedom, -Math.Abs(Means[a] - Means[b]) / Math.Sqrt(variance))
            : null;
    }

    /// <summary>The same means with further independent error variances added, one for each group.</summary>
    public GroupMeans WithFurtherVariance(IReadOnlyList<double> variances)
    {
        ArgumentNullException.ThrowIfNull(variances);
        var k = Means.Length;
        return variances.Count == k
            ? this with { Covariance = [.. Covariance.Select((c, i) => i % (k + 1) == 0 ? c + variances[i / (k + 1)] : c)] }
            : throw new ArgumentException("One variance for each group is needed.", nameof(variances));
    }
}
