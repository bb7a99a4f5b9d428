using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace Vanehour.Models.Regression;

/// <summary>Linear least squares with weights.</summary>
/// <remarks>
/// Columns are centred (with a constant) and brought to length 1, factored by Householder QR, and the solution is refined with residuals of the
/// original data summed in twice the working precision. MathNet's QR answers on a rank-deficient matrix without complaint, so the diagonal of R,
/// which for columns of length 1 is each column's distance from those before it, is checked here.
/// [Bjorck] A. Bjorck, Numerical Methods for Least Squares Problems, 1996, sections 2.7 (rank) and 2.9 (refinement).
/// </remarks>
public static class WeightedLeastSquares
{
    // A column nearer than this to the span of those before it is taken as their combination. Rounding alone leaves about 1e-15; NIST's Filip,
    // the hardest set that still has an answer in doubles, comes down to about 1e-11.
    private const double RankTolerance = 1e-13;

    private const int Refinements = 3;

    /// <summary>Fits <paramref name="problem"/>. Cost: rows times columns squared.</summary>
    /// <returns>The fit, or <see cref="FitStatus.Degenerate"/> where rows are too few or columns depend on one another.</returns>
    /// <exception cref="ArgumentException">Lengths disagree, a value is not finite or a weight is not above 0.</exception>
    public static LinearFit Fit(LinearProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        Check(problem);
        var n = problem.Rows.Count;
        var p = problem.Columns.Length;
        var parameters = p + (problem.Intercept ? 1 : 0);
        var dof = n - parameters - problem.AbsorbedParameters;
        if (dof < 1 || parameters == 0)
        {
            return Degenerate(problem, $"{n} observations cannot identify {parameters + problem.AbsorbedParameters} parameters and the scatter about them; wait for more.");
        }

        var root = new double[n];
        for (var i = 0; i < n; i++)
        {
            root[i] = problem.Weights is { } w ? Math.Sqrt(w[i]) : 1;
        }

        var means = new double[p];
        var lengths = new double[p];
        var sumOfWeights = WeightedSum(root, _ => 1);
        var design = Matrix<double>.Build.Dense(n, Math.Max(p, 1));
        for (var j = 0; j < p; j++)
        {
            means[j] = problem.Intercept ? WeightedSum(root, i => problem.Rows[i][j]) / sumOfWeights : 0;
            lengths[j] = Math.Sqrt(WeightedSum(root, i => Square(problem.Rows[i][j] - means[j])));
            var size = Math.Sqrt(WeightedSum(root, i => Square(problem.Rows[i][j])));
            if (lengths[j] <= RankTolerance * size || size == 0)
            {
                return Degenerate(problem, $"\"{problem.Columns[j]}\" does not vary; leave it out.", j);
            }

            for (var i = 0; i < n; i++)
            {
                design[i, j] = root[i] * (problem.Rows[i][j] - means[j]) / lengths[j];
            }
        }

        var qr = p > 0 ? design.QR(QRMethod.Thin) : null;
        for (var j = 0; j < p; j++)
        {
            if (Math.Abs(qr!.R[j, j]) < RankTolerance)
            {
                return Degenerate(problem, $"\"{problem.Columns[j]}\" is a combination of the columns before it; leave one of them out.", j);
            }
        }

        return Solve(problem, qr, root, means, lengths, sumOfWeights, dof);
    }

    private static LinearFit Solve(LinearProblem problem, QR<double>? qr, double[] root, double[] means, double[] lengths, double sumOfWeights, int dof)
    {
        var n = root.Length;
        var p = means.Length;
        var constant = 0.0;
        var b = new double[p];
        var residuals = problem.Responses.ToArray();
        for (var pass = 0; pass <= Refinements; pass++)
        {
            var shift = problem.Intercept ? WeightedSum(root, i => residuals[i]) / sumOfWeights : 0;
            var target = Vector<double>.Build.Dense(n, i => root[i] * (residuals[i] - shift));
            var step = qr is null ? [] : SolveUpper(qr.R, qr.Q.TransposeThisAndMultiply(target).AsArray());
            constant += shift;
            for (var j = 0; j < p; j++)
            {
                var change = step[j] / lengths[j];
                b[j] += change;
                constant -= problem.Intercept ? change * means[j] : 0;
            }

            residuals = Residuals(problem, constant, b);
        }

        var rss = WeightedSum(root, i => Square(residuals[i]));
        var s2 = rss / dof;
        var centre = problem.Intercept ? WeightedSum(root, i => problem.Responses[i]) / sumOfWeights : 0;
        var total = WeightedSum(root, i => Square(problem.Responses[i] - centre));
        var factor = CovarianceFactor(problem, qr, means, lengths, sumOfWeights);
        var k = factor.Length;
        var covariance = new double[k * k];
        for (var i = 0; i < k; i++)
        {
            for (var j = 0; j < k; j++)
            {
                covariance[(i * k) + j] = s2 * Dot(factor[i], factor[j]);
            }
        }

        var coefficients = ImmutableArray.CreateBuilder<Coefficient>(k);
        for (var i = 0; i < k; i++)
        {
            var column = i - (problem.Intercept ? 1 : 0);
            coefficients.Add(new Coefficient(
                column < 0 ? "constant" : problem.Columns[column],
                column < 0 ? constant : b[column],
                Math.Sqrt(covariance[(i * k) + i])));
        }

        return new LinearFit
        {
            Status = FitStatus.Converged,
            Intercept = problem.Intercept,
            Coefficients = coefficients.MoveToImmutable(),
            Covariance = [.. covariance],
            ResidualScale = Math.Sqrt(s2),
            Observations = n,
            DegreesOfFreedom = dof,
            RSquared = total > 0 ? 1 - (rss / total) : double.NaN,
        };
    }

    // Rows f_i with Cov(b_i, b_j) = s2 f_i.f_j. Kept as factors because the sum of squares of a triangular solve does not cancel.
    private static double[][] CovarianceFactor(LinearProblem problem, QR<double>? qr, double[] means, double[] lengths, double sumOfWeights)
    {
        var p = means.Length;
        var rows = new List<double[]>();
        if (problem.Intercept)
        {
            var scaled = Enumerable.Range(0, p).Select(j => -means[j] / lengths[j]).ToArray();
            rows.Add([1 / Math.Sqrt(sumOfWeights), .. qr is null ? [] : SolveLowerTransposed(qr.R, scaled)]);
        }

        for (var j = 0; j < p; j++)
        {
            var unit = new double[p];
            unit[j] = 1 / lengths[j];
            var solved = SolveLowerTransposed(qr!.R, unit);
            rows.Add(problem.Intercept ? [0, .. solved] : solved);
        }

        return [.. rows];
    }

    private static double[] SolveUpper(Matrix<double> r, double[] y)
    {
        var p = r.ColumnCount;
        var x = new double[p];
        for (var i = p - 1; i >= 0; i--)
        {
            var sum = y[i];
            for (var j = i + 1; j < p; j++)
            {
                sum -= r[i, j] * x[j];
            }

            x[i] = sum / r[i, i];
        }

        return x;
    }

    private static double[] SolveLowerTransposed(Matrix<double> r, double[] y)
    {
        var p = r.ColumnCount;
        var x = new double[p];
        for (var i = 0; i < p; i++)
        {
            var sum = y[i];
            for (var j = 0; j < i; j++)
            {
                sum -= r[j, i] * x[j];
            }

            x[i] = sum / r[i, i];
        }

        return x;
    }

    // y - X b with each product split exactly and the sum carried in two doubles.
    private static double[] Residuals(LinearProblem problem, double constant, double[] b)
    {
        var residuals = new double[problem.Rows.Count];
        for (var i = 0; i < residuals.Length; i++)
        {
            var high = problem.Responses[i];
            var low = 0.0;
            Add(ref high, ref low, -constant);
            for (var j = 0; j < b.Length; j++)
            {
                var x = problem.Rows[i][j];
                var product = -b[j] * x;
                low += Math.FusedMultiplyAdd(-b[j], x, -product);
                Add(ref high, ref low, product);
            }

            residuals[i] = high + low;
        }

        return residuals;
    }

    private static double WeightedSum(double[] root, Func<int, double> term)
    {
        double high = 0, low = 0;
        for (var i = 0; i < root.Length; i++)
        {
            Add(ref high, ref low, root[i] * root[i] * term(i));
        }

        return high + low;
    }

    // Knuth's exact sum of two doubles: the rounding error goes to low.
    private static void Add(ref double high, ref double low, double term)
    {
        var sum = high + term;
        var part = sum - high;
        low += (high - (sum - part)) + (term - part);
        high = sum;
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    private static double Square(double x) => x * x;

    private static LinearFit Degenerate(LinearProblem problem, string reason, int? column = null) => new()
    {
        Status = FitStatus.Degenerate,
        Reason = reason,
        OffendingColumn = column,
        Intercept = problem.Intercept,
        Coefficients = [],
        Covariance = [],
        ResidualScale = double.NaN,
        Observations = problem.Rows.Count,
        DegreesOfFreedom = 0,
        RSquared = double.NaN,
    };

    private static void Check(LinearProblem problem)
    {
        if (problem.Responses.Count != problem.Rows.Count || (problem.Weights is { } weights && weights.Count != problem.Rows.Count))
        {
            throw new ArgumentException("Rows, responses and weights must be equally many.", nameof(problem));
        }

        for (var i = 0; i < problem.Rows.Count; i++)
        {
            var good = problem.Rows[i].Length == problem.Columns.Length
                && problem.Rows[i].All(double.IsFinite)
                && double.IsFinite(problem.Responses[i])
                && (problem.Weights is null || (double.IsFinite(problem.Weights[i]) && problem.Weights[i] > 0));
            if (!good)
            {
                throw new ArgumentException(
                    string.Create(CultureInfo.InvariantCulture, $"Row {i} has the wrong length, a value that is not finite or a weight that is not above 0."),
                    nameof(problem));
            }
        }
    }
}
