using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Regression;

/// <summary>
/// Means of groups of units that are each known with an error of their own and differ among themselves: meta-regression with random effects. The variance between units is
/// the one at which the weighted squares are as large as their degrees of freedom [Paule and Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377; for regressions DerSimonian and
/// Kacker, Contemp. Clin. Trials 28 (2007) 105]; t quantiles as in [Knapp and Hartung, Stat. Med. 22 (2003) 2693], whose factor is 1 at that variance and is not let below it.
/// </summary>
public sealed class RandomEffects
{
    private const int MostDoublings = 60;
    private const int Halvings = 200;

    // A column nearer than this share to the span of the others holds nothing of its own.
    private const double LeastEigenvalue = 1e-9;

    private RandomEffects(GroupMeans groups, double betweenSd, ImmutableArray<double> slopes, ImmutableArray<double> slopeErrors) =>
        (Groups, BetweenSd, Slopes, SlopeErrors) = (groups, betweenSd, slopes, slopeErrors);

    /// <summary>The groups' means, where all covariates are 0.</summary>
    public GroupMeans Groups { get; }

    /// <summary>Standard deviation from unit to unit, for a unit of multiplier 1, in the units' unit; NaN without degrees of freedom.</summary>
    public double BetweenSd { get; }

    /// <summary>Slope on each covariate.</summary>
    public ImmutableArray<double> Slopes { get; }

    /// <summary>Standard error of each slope.</summary>
    public ImmutableArray<double> SlopeErrors { get; }

    /// <summary>Fits; null where groups and covariates cannot be told apart.</summary>
    /// <param name="values">The units; finite.</param>
    /// <param name="errors">Standard error of each; finite, above 0.</param>
    /// <param name="groups">Of each unit, 0 to <paramref name="groupCount"/> less 1.</param>
    /// <param name="groupCount">How many groups; each must have a unit.</param>
    /// <param name="covariates">Of each unit, all of one length; finite; null for none.</param>
    /// <param name="multipliers">By what factor each unit's deviation from its mean is larger than another's; above 0; null for 1.</param>
    /// <exception cref="ArgumentException">Lengths disagree, a value cannot be used or a group has no unit.</exception>
    public static RandomEffects? Fit(
        IReadOnlyList<double> values,
        IReadOnlyList<double> errors,
        IReadOnlyList<int> groups,
        int groupCount,
        IReadOnlyList<IReadOnlyList<double>>? covariates = null,
        IReadOnlyList<double>? multipliers = null)
    {
        Check(values, errors, groups, groupCount, covariates, multipliers);
        var n = values.Count;
        var slopes = covariates is null ? 0 : covariates[0].Count;
        var x = Matrix<double>.Build.Dense(n, groupCount + slopes, (i, j) => j < groupCount ? (groups[i] == j ? 1 : 0) : covariates![i][j - groupCount]);
        var y = Vector<double>.Build.DenseOfEnumerable(values);
        var dof = n - x.ColumnCount;
        if (dof < 0 || !CanTell(x))
        {
            return null;
        }

        var between = dof < 1 ? double.NaN : Between();
        var (coefficients, covariance, _) = At(dof < 1 ? 0 : between);
        var unit = Enumerable.Range(0, n).Average(i => Math.Pow(errors[i], 2) + (between * Math.Pow(multipliers?[i] ?? 1, 2)));
        return new RandomEffects(
            new GroupMeans
            {
                Means = [.. coefficients.Take(groupCount)],
                Counts = [.. Enumerable.Range(0, groupCount).Select(g => groups.Count(o => o == g))],
                Covariance = [.. Enumerable.Range(0, groupCount * groupCount).Select(i => dof < 1 ? double.NaN : covariance[i / groupCount, i % groupCount])],
                DegreesOfFreedom = dof,
                UnitSd = Math.Sqrt(unit),
            },
            Math.Sqrt(between),
            [.. coefficients.Skip(groupCount)],
            [.. Enumerable.Range(groupCount, slopes).Select(j => dof < 1 ? double.NaN : Math.Sqrt(covariance[j, j]))]);

        (Vector<double> Coefficients, Matrix<double> Covariance, double Squares) At(double variance)
        {
            var w = Vector<double>.Build.Dense(n, i => 1 / (Math.Pow(errors[i], 2) + (variance * Math.Pow(multipliers?[i] ?? 1, 2))));
            var weighted = Matrix<double>.Build.Dense(n, x.ColumnCount, (i, j) => w[i] * x[i, j]);
            var inverse = x.TransposeThisAndMultiply(weighted).Inverse();
            var b = inverse * weighted.TransposeThisAndMultiply(y);
            var r = y - (x * b);
            return (b, inverse, Enumerable.Range(0, n).Sum(i => w[i] * r[i] * r[i]));
        }

        // The squares fall as the variance rises; below it they are no larger than their degrees of freedom even without any.
        double Between()
        {
            if (At(0).Squares <= dof)
            {
                return 0;
            }

            var high = errors.Average(e => e * e);
            for (var i = 0; i < MostDoublings && At(high).Squares > dof; i++)
            {
                high *= 2;
            }

            var low = 0.0;
            for (var i = 0; i < Halvings && high - low > 1e-14 * high; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = At(middle).Squares > dof ? (middle, high) : (low, middle);
            }

            return (low + high) / 2;
        }
    }

    private static bool CanTell(Matrix<double> x)
    {
        var lengths = Enumerable.Range(0, x.ColumnCount).Select(j => x.Column(j).L2Norm()).ToArray();
        if (lengths.Any(l => l <= 0))
        {
            return false;
        }

        var scaled = Matrix<double>.Build.Dense(x.RowCount, x.ColumnCount, (i, j) => x[i, j] / lengths[j]);
        return scaled.TransposeThisAndMultiply(scaled).Evd(Symmetricity.Symmetric).EigenValues.All(v => v.Real > LeastEigenvalue);
    }

    private static void Check(
        IReadOnlyList<double> values,
        IReadOnlyList<double> errors,
        IReadOnlyList<int> groups,
        int groupCount,
        IReadOnlyList<IReadOnlyList<double>>? covariates,
        IReadOnlyList<double>? multipliers)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(errors);
        ArgumentNullException.ThrowIfNull(groups);
        var n = values.Count;
        if (n == 0 || errors.Count != n || groups.Count != n || !values.All(double.IsFinite) || !errors.All(e => e > 0 && double.IsFinite(e)))
        {
            throw new ArgumentException("Each unit has a finite value, an error above 0 and a group.", nameof(values));
        }

        if (groups.Any(g => g < 0 || g >= groupCount) || groups.Distinct().Count() != groupCount)
        {
            throw new ArgumentException("Each group has a unit, and each unit one of the groups.", nameof(groups));
        }

        if (covariates is not null && (covariates.Count != n || covariates.Any(c => c.Count != covariates[0].Count || !c.All(double.IsFinite))))
        {
            throw new ArgumentException("Covariates must be finite, of one length, for each unit.", nameof(covariates));
        }

        if (multipliers is not null && (multipliers.Count != n || !multipliers.All(m => m > 0 && double.IsFinite(m))))
        {
            throw new ArgumentException("Multipliers must be finite and above 0, one for each unit.", nameof(multipliers));
        }
    }
}
