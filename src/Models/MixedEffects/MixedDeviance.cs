using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.MixedEffects;

/// <summary>
/// Minus twice the logarithm of the likelihood of a mixed model, with fixed effects and residual scale at their best for the covariance between groups, which is
/// scale^2 L L' with L lower triangular, its elements theta.
/// </summary>
/// <remarks>
/// [Bates] D. Bates, M. Maechler, B. Bolker and S. Walker, Fitting Linear Mixed-Effects Models Using lme4, Journal of Statistical Software 67(1), 2015, section 3, equations 34
/// (ML) and 41 (REML). The sums of squares come by orthogonal-triangular decompositions of each group with pseudo-rows, not by products: [Pinheiro] J. C. Pinheiro and
/// D. M. Bates, Mixed-Effects Models in S and S-PLUS, 2000, section 2.2.3. A column of L may change its sign without changing L L', so theta needs no bounds.
/// Cost of one value: groups times random effects squared times all effects; rows are touched once, in the constructor.
/// </remarks>
internal sealed class MixedDeviance
{
    // A random effect is told by a group's own rows when that much of its column is left beside the columns before it.
    private const double RankTolerance = 1e-8;

    private readonly MixedScale scale;
    private readonly MixedCriterion criterion;
    private readonly TriangularFactor within;
    private readonly TriangularFactor total;
    private readonly TriangularFactor own;
    private readonly double[] row;
    private readonly int q;
    private readonly int p;

    /// <param name="problem">Finite rows.</param>
    /// <param name="residuals">The responses less a first fit, so that large values lose no digits.</param>
    /// <param name="scale">Of the columns.</param>
    /// <param name="criterion">Which likelihood.</param>
    public MixedDeviance(MixedProblem problem, double[] residuals, MixedScale scale, MixedCriterion criterion)
    {
        (this.scale, this.criterion) = (scale, criterion);
        (q, p) = (scale.RandomCount, scale.FixedCount);
        Observations = residuals.Length;
        within = new TriangularFactor(p + 1);
        total = new TriangularFactor(p + 1);
        own = new TriangularFactor(q + p + 1);
        row = new double[q + p + 1];
        var positions = new Dictionary<string, int>(StringComparer.Ordinal);
        var triangles = new List<(string Name, TriangularFactor Triangle, int[] Count)>();
        for (var i = 0; i < residuals.Length; i++)
        {
            if (!positions.TryGetValue(problem.Groups[i], out var position))
            {
                positions.Add(problem.Groups[i], position = triangles.Count);
                triangles.Add((problem.Groups[i], new TriangularFactor(q + p + 1), new int[1]));
            }

            scale.Fill(problem.Rows[i], row);
            row[^1] = residuals[i];
            triangles[position].Triangle.Insert(row);
            triangles[position].Count[0]++;
        }

        Groups = [.. triangles.Select(t => new GroupSums(t.Name, t.Count[0], Rank(t.Triangle, t.Count[0]), [.. Enumerable.Range(0, q).Select(i => t.Triangle.Row(i).ToArray())]))];
        foreach (var (_, triangle, _) in triangles)
        {
            // Below the random effects a triangle holds what its group says whatever theta is.
            for (var i = q; i < triangle.Size; i++)
            {
                triangle.Row(i)[q..].CopyTo(row);
                within.Insert(row.AsSpan(0, p + 1));
            }
        }
    }

    public int Observations { get; }

    public IReadOnlyList<GroupSums> Groups { get; }

    /// <summary>Sum of squares that would be left if every group had effects as it liked.</summary>
    public double WithinSumOfSquares()
    {
        // Columns that the groups' effects explain, as the constant, are left as rounding and would take up a row each.
        var factor = new TriangularFactor(p + 1);
        for (var i = 0; i <= p; i++)
        {
            within.Row(i).CopyTo(row);
            for (var j = 0; j < p; j++)
            {
                row[j] = within[j, j] > RankTolerance * Math.Sqrt(Observations) ? row[j] : 0;
            }

            factor.Insert(row.AsSpan(0, p + 1));
        }

        return factor[p, p] * factor[p, p];
    }

    /// <summary>How many elements theta has.</summary>
    public int ThetaCount => q * (q + 1) / 2;

    /// <summary>Rows, less fixed effects by REML.</summary>
    private double Divisor => Observations - (criterion == MixedCriterion.Reml ? p : 0);

    /// <summary>L for theta, which is taken column by column.</summary>
    public Matrix<double> Lower(Vector<double> theta)
    {
        var lower = Matrix<double>.Build.Dense(q, q);
        var at = 0;
        for (var j = 0; j < q; j++)
        {
            for (var i = j; i < q; i++)
            {
                lower[i, j] = theta[at++];
            }
        }

        return lower;
    }

    /// <summary>The deviance.</summary>
    public double At(Vector<double> theta)
    {
        var lower = Lower(theta);
        total.CopyFrom(within);
        var logDeterminant = 0.0;
        foreach (var group in Groups)
        {
            Reduce(group, lower, intoTotal: true);
            for (var j = 0; j < q; j++)
            {
                logDeterminant += 2 * Math.Log(own[j, j]);
            }
        }

        if (criterion == MixedCriterion.Reml)
        {
            logDeterminant += 2 * scale.LogDeterminant;
            for (var j = 0; j < p; j++)
            {
                logDeterminant += 2 * Math.Log(total[j, j]);
            }
        }

        var variance = total[p, p] * total[p, p] / Divisor;
        return logDeterminant + (Divisor * (1 + Math.Log(2 * Math.PI * variance)));
    }

    /// <summary>Everything that goes with theta, for the scaled columns.</summary>
    public MixedSolution Solve(Vector<double> theta)
    {
        var deviance = At(theta);
        var lower = Lower(theta);
        var triangle = Matrix<double>.Build.Dense(p, p, (i, j) => total[i, j]);
        var rootOfCovariance = triangle.Inverse();
        var effects = rootOfCovariance * Vector<double>.Build.Dense(p, i => total[i, p]);
        var residualScale = total[p, p] / Math.Sqrt(Divisor);
        var predictions = new List<(Vector<double> Effects, Matrix<double> Covariance)>();
        foreach (var group in Groups)
        {
            Reduce(group, lower, intoTotal: false);
            var back = lower * Matrix<double>.Build.Dense(q, q, (i, j) => own[i, j]).Inverse();
            var link = Matrix<double>.Build.Dense(q, p, (i, j) => own[i, q + j]);
            var seen = Vector<double>.Build.Dense(q, i => own[i, q + p]);
            var shared = back * link * rootOfCovariance;
            predictions.Add((
                back * (seen - (link * effects)),
                (back.TransposeAndMultiply(back) + shared.TransposeAndMultiply(shared)) * (residualScale * residualScale)));
        }

        return new MixedSolution(
            effects,
            rootOfCovariance.TransposeAndMultiply(rootOfCovariance) * (residualScale * residualScale),
            lower.TransposeAndMultiply(lower) * (residualScale * residualScale),
            residualScale,
            -deviance / 2,
            predictions);
    }

    /// <summary>Brings the pseudo-rows [I 0 0] and the group's rows [ZL X y] to a triangle; what does not belong to the group's effects goes into the total.</summary>
    private void Reduce(GroupSums group, Matrix<double> lower, bool intoTotal)
    {
        for (var i = 0; i < q; i++)
        {
            for (var j = 0; j < own.Size; j++)
            {
                own[i, j] = i == j ? 1 : 0;
            }
        }

        foreach (var leading in group.Leading)
        {
            for (var j = 0; j < q; j++)
            {
                row[j] = 0;
                for (var k = j; k < q; k++)
                {
                    row[j] += leading[k] * lower[k, j];
                }
            }

            leading.AsSpan(q).CopyTo(row.AsSpan(q));
            own.Insert(row, q);
            if (intoTotal)
            {
                total.Insert(row.AsSpan(q));
            }
        }
    }

    private int Rank(TriangularFactor triangle, int rows) => Enumerable.Range(0, q).Count(j => triangle[j, j] > RankTolerance * Math.Sqrt(rows));
}
