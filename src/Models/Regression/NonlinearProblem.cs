using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Regression;

/// <summary>A model and the observations it is fitted to.</summary>
internal sealed class NonlinearProblem(NonlinearFunction function, NonlinearGradient? gradient, double[] x, double[] y, double[] lower, double[] upper)
{
    // Balances the truncation of a fourth-order difference (h^4) against rounding (epsilon / h), with room for a parameter that is large beside the scale
    // on which the model changes with it, as the place of a peak.
    private const double DifferenceStep = 3e-5;

    public double[] X => x;

    public double[] Y => y;

    public double[] Lower => lower;

    public double[] Upper => upper;

    public bool HasBounds => lower.Length > 0;

    public bool IsUsable(double[] at)
    {
        if (!AllFinite(at) || !AllFinite(x) || !AllFinite(y))
        {
            return false;
        }

        for (var j = 0; j < lower.Length; j++)
        {
            if (!(lower[j] <= at[j] && at[j] <= upper[j] && lower[j] < upper[j]))
            {
                return false;
            }
        }

        return double.IsFinite(SumOfSquares(at));
    }

    public double[] Values(double[] at)
    {
        var values = new double[x.Length];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = function(at, x[i]);
        }

        return values;
    }

    public double[] Residuals(double[] at)
    {
        var residuals = Values(at);
        for (var i = 0; i < residuals.Length; i++)
        {
            residuals[i] = y[i] - residuals[i];
        }

        return residuals;
    }

    public double SumOfSquares(double[] at)
    {
        var sum = 0.0;
        for (var i = 0; i < x.Length; i++)
        {
            var residual = y[i] - function(at, x[i]);
            sum += residual * residual;
        }

        return sum;
    }

    public Matrix<double> Jacobian(double[] at)
    {
        var columns = new double[x.Length * at.Length];
        Span<double> row = stackalloc double[at.Length];
        for (var i = 0; i < x.Length; i++)
        {
            if (gradient is null)
            {
                Differences(at, x[i], row);
            }
            else
            {
                gradient(at, x[i], row);
            }

            for (var j = 0; j < row.Length; j++)
            {
                columns[(j * x.Length) + i] = row[j];
            }
        }

        return Matrix<double>.Build.Dense(x.Length, at.Length, columns);
    }

    /// <summary>The point one step on, or null where it leaves the bounds or the numbers.</summary>
    public double[]? Within(double[] at, double[] step)
    {
        var next = new double[at.Length];
        for (var j = 0; j < at.Length; j++)
        {
            next[j] = at[j] + step[j];
            if (!double.IsFinite(next[j]) || (HasBounds && (next[j] < lower[j] || next[j] > upper[j])))
            {
                return null;
            }
        }

        return next;
    }

    private static bool AllFinite(double[] values) => Array.TrueForAll(values, double.IsFinite);

    private void Differences(double[] at, double atX, Span<double> row)
    {
        Span<double> moved = stackalloc double[at.Length];
        at.CopyTo(moved);
        for (var j = 0; j < at.Length; j++)
        {
            var h = DifferenceStep * Math.Max(Math.Abs(at[j]), 1e-8);
            moved[j] = at[j] - (2 * h);
            var sum = function(moved, atX);
            moved[j] = at[j] - h;
            sum -= 8 * function(moved, atX);
            moved[j] = at[j] + h;
            sum += 8 * function(moved, atX);
            moved[j] = at[j] + (2 * h);
            sum -= function(moved, atX);
            row[j] = sum / (12 * h);
            moved[j] = at[j];
        }
    }
}
