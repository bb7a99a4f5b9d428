using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Survival;

/// <summary>The log-rank test of any number of groups, with ties (hypergeometric variance) and late entry. Source: Mantel 1966; Peto and Peto 1972.</summary>
public static class LogRank
{
    // Of the largest singular value; below it a direction holds nothing to compare.
    private const double RankTolerance = 1e-10;

    /// <summary>Tests whether groups last alike.</summary>
    /// <param name="groups">The units of each group. A failure found at an inspection counts at the inspection, which is fair where groups are inspected alike.</param>
    /// <exception cref="ArgumentException">An age cannot be used, or there are fewer than two groups.</exception>
    public static LogRankResult Test(IReadOnlyList<IReadOnlyList<Lifetime>> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2)
        {
            throw new ArgumentException("Two groups or more can be compared.", nameof(groups));
        }

        foreach (var group in groups)
        {
            Lifetime.Check(group);
        }

        var ages = groups.SelectMany(g => g).Where(l => l.HasFailed).Select(l => l.Exit).Distinct().Order().ToArray();
        var sets = groups.Select(g => RiskSet.At(g, ages)).ToArray();
        var k = groups.Count;
        var difference = Vector<double>.Build.Dense(k);
        var variance = Matrix<double>.Build.Dense(k, k);
        var expected = new double[k];
        for (var i = 0; i < ages.Length; i++)
        {
            double n = sets.Sum(s => s[i].AtRisk);
            double d = sets.Sum(s => s[i].Failures);
            var spread = n > 1 ? d * (n - d) / (n - 1) : 0;
            for (var a = 0; a < k; a++)
            {
                var share = sets[a][i].AtRisk / n;
                expected[a] += d * share;
                difference[a] += sets[a][i].Failures - (d * share);
                for (var b = 0; b < k; b++)
                {
                    variance[a, b] += spread * share * ((a == b ? 1 : 0) - (sets[b][i].AtRisk / n));
                }
            }
        }

        // The rows of the variance sum to 0, so one group is left out by the pseudo-inverse, with every group that was never at risk beside another.
        var svd = variance.Svd();
        var rank = svd.S.Count(s => s > RankTolerance * svd.S[0]);
        var rotated = svd.U.TransposeThisAndMultiply(difference);
        var chiSquare = Enumerable.Range(0, rank).Sum(i => rotated[i] * rotated[i] / svd.S[i]);
        return new LogRankResult(
            [.. groups.Select(g => g.Count(l => l.HasFailed))],
            [.. expected],
            chiSquare,
            rank,
            rank == 0 ? null : SpecialFunctions.GammaUpperRegularized(rank / 2.0, chiSquare / 2));
    }
}
