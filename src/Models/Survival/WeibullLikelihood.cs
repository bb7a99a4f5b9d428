using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Survival;

/// <summary>The Weibull likelihood of lifetimes, its derivatives and its peak.</summary>
/// <remarks>Parameters are the coefficients and log s. With a shift w the intercept stands for the logarithm of the quantile whose standard value is w.</remarks>
internal sealed class WeibullLikelihood
{
    private const int MostSteps = 200;
    private const int MostHalvings = 40;

    // Of log s: shapes from 1e-4 to 1e4. Beyond them a peak is a ridge without end.
    private const double FarthestLogS = 9.2;

    private const double LeastEigenvalue = 1e-9;

    private readonly double[] logExit;
    private readonly double[] logEntry;
    private readonly double?[] logFine;
    private readonly bool[] hasFailed;
    private readonly double[][] x;

    public WeibullLikelihood(IReadOnlyList<Lifetime> lifetimes, IReadOnlyList<IReadOnlyList<double>>? covariates)
    {
        logExit = [.. lifetimes.Select(l => Math.Log(l.Exit))];
        logEntry = [.. lifetimes.Select(l => Math.Log(l.Entry))];
        logFine = [.. lifetimes.Select(l => l.FineUntil is { } fine ? Math.Log(fine) : (double?)null)];
        hasFailed = [.. lifetimes.Select(l => l.HasFailed)];
        x = [.. lifetimes.Select((_, i) => covariates is null ? [1.0] : (double[])[1.0, .. covariates[i]])];
    }

    /// <summary>All parameters 0.</summary>
    public Vector<double> Zero => Vector<double>.Build.Dense((x.Length == 0 ? 1 : x[0].Length) + 1);

    /// <summary>Places to climb from: the exponential distribution's scale with several shapes.</summary>
    public IEnumerable<Vector<double>> Start()
    {
        var exposure = logExit.Zip(logEntry, (exit, entry) => Math.Exp(exit) - Math.Exp(entry)).Sum();
        foreach (var shape in new[] { 1.0, 3.0 })
        {
            var start = Zero;
            start[0] = Math.Log(exposure / hasFailed.Count(f => f));
            start[^1] = -Math.Log(shape);
            yield return start;
        }
    }

    /// <summary>Climbs to the peak by damped Newton steps; null when there is none.</summary>
    /// <param name="from">Where to begin.</param>
    /// <param name="shift">What the intercept stands for.</param>
    /// <param name="held">A parameter that is not to move, or null.</param>
    public WeibullPeak? Climb(Vector<double> from, double shift, int? held)
    {
        var at = from.Clone();
        var free = Enumerable.Range(0, at.Count).Where(i => i != held).ToArray();
        var now = Value(at, shift);
        for (var step = 0; step < MostSteps && double.IsFinite(now); step++)
        {
            var (gradient, information) = Derivatives(at, shift);
            var g = Vector<double>.Build.Dense(free.Length, i => gradient[free[i]]);
            var h = Matrix<double>.Build.Dense(free.Length, free.Length, (i, j) => information[free[i], free[j]]);
            if (Ascent(h, g) is not { } move)
            {
                return null;
            }

            // Twice what a quadratic likelihood has left to gain.
            if (g.DotProduct(move) < 1e-13 * (1 + Math.Abs(now)))
            {
                return Math.Abs(at[^1]) < FarthestLogS && IsPositive(h) ? new WeibullPeak(at, now, information) : null;
            }

            var share = 1.0;
            var next = at;
            var there = double.NegativeInfinity;
            for (var halving = 0; halving < MostHalvings && !(there > now); halving++, share /= 2)
            {
                next = at.Clone();
                for (var i = 0; i < free.Length; i++)
                {
                    next[free[i]] += share * move[i];
                }

                there = Value(next, shift);
            }

            if (!(there > now))
            {
                // Rounding leaves nothing to gain: that is the peak, if the slope is as good as none.
                return g.DotProduct(move) < 1e-8 * (1 + Math.Abs(now)) && IsPositive(h) ? new WeibullPeak(at, now, information) : null;
            }

            (at, now) = (next, there);
        }

        return null;
    }

    /// <summary>The negative Hessian.</summary>
    public Matrix<double> Information(Vector<double> at, double shift) => Derivatives(at, shift).Information;

    /// <summary>Whether the data hold every parameter: the information, as correlations, is well above singular.</summary>
    private static bool IsPositive(Matrix<double> h)
    {
        var diagonal = h.Diagonal();
        return diagonal.All(d => d > 0)
            && Matrix<double>.Build.Dense(h.RowCount, h.ColumnCount, (i, j) => h[i, j] / Math.Sqrt(diagonal[i] * diagonal[j]))
                .Evd(Symmetricity.Symmetric).EigenValues.All(v => v.Real > LeastEigenvalue);
    }

    private static Vector<double>? Ascent(Matrix<double> information, Vector<double> gradient)
    {
        var ridge = 0.0;
        var size = Math.Max(1e-6, information.Diagonal().AbsoluteMaximum());
        for (var i = 0; i < 30; i++)
        {
            var damped = information + (ridge * Matrix<double>.Build.DenseIdentity(gradient.Count));
            if (damped.Evd(Symmetricity.Symmetric).EigenValues.All(v => v.Real > 1e-14 * size))
            {
                return damped.Cholesky().Solve(gradient);
            }

            ridge = ridge == 0 ? 1e-6 * size : ridge * 4;
        }

        return null;
    }

    private double Value(Vector<double> at, double shift)
    {
        var s = Math.Exp(at[^1]);
        var sum = 0.0;
        for (var i = 0; i < logExit.Length; i++)
        {
            var mean = Mean(at, i);
            var z = ((logExit[i] - mean) / s) + shift;
            if (logFine[i] is { } fine)
            {
                sum += new IntervalTerm(z, (logExit[i] - fine) / s).Value;
            }
            else
            {
                sum -= Math.Exp(z);
            }

            if (hasFailed[i] && logFine[i] is null)
            {
                sum += z - at[^1] - logExit[i];
            }

            if (!double.IsNegativeInfinity(logEntry[i]))
            {
                sum += Math.Exp(((logEntry[i] - mean) / s) + shift);
            }
        }

        return sum;
    }

    private (Vector<double> Gradient, Matrix<double> Information) Derivatives(Vector<double> at, double shift)
    {
        var s = Math.Exp(at[^1]);
        var last = at.Count - 1;
        var gradient = Vector<double>.Build.Dense(at.Count);
        var information = Matrix<double>.Build.Dense(at.Count, at.Count);
        for (var i = 0; i < logExit.Length; i++)
        {
            var mean = Mean(at, i);
            var u = (logExit[i] - mean) / s;
            if (logFine[i] is { } fine)
            {
                var width = (logExit[i] - fine) / s;
                var term = new IntervalTerm(u + shift, width);
                Add(x[i], u, term.Slope, term.Bend, 1);

                // The interval's width in u, which is infinite where nothing was seen before, changes with log s alone: d(width)/d(log s) = -width.
                if (double.IsFinite(width))
                {
                    for (var a = 0; a < last; a++)
                    {
                        var mixed = term.MixedBend * width * x[i][a] / s;
                        information[a, last] -= mixed;
                        information[last, a] -= mixed;
                    }

                    gradient[last] -= term.WidthSlope * width;
                    information[last, last] -= (2 * term.MixedBend * u * width) + (term.WidthBend * width * width) + (term.WidthSlope * width);
                }
            }
            else
            {
                // z - log s - exp z of a failure, -exp z of a unit that lasted.
                var e = Math.Exp(u + shift);
                var failed = hasFailed[i] ? 1 : 0;
                Add(x[i], u, failed - e, -e, 1);
                gradient[last] -= failed;
            }

            if (!double.IsNegativeInfinity(logEntry[i]))
            {
                var entry = (logEntry[i] - mean) / s;
                var e = Math.Exp(entry + shift);
                Add(x[i], entry, -e, -e, -1);
            }
        }

        return (gradient, information);

        // Of sign times f(z), with z = u + shift, dz/db = -x/s and dz/d(log s) = -u; slope and bend are f' and f".
        void Add(double[] row, double u, double slope, double bend, double sign)
        {
            for (var a = 0; a < last; a++)
            {
                gradient[a] -= sign * slope * row[a] / s;
                for (var b = 0; b < last; b++)
                {
                    information[a, b] -= sign * bend * row[a] * row[b] / (s * s);
                }

                var mixed = sign * row[a] / s * ((bend * u) + slope);
                information[a, last] -= mixed;
                information[last, a] -= mixed;
            }

            gradient[last] -= sign * slope * u;
            information[last, last] -= sign * ((bend * u * u) + (slope * u));
        }
    }

    private double Mean(Vector<double> at, int unit)
    {
        var mean = 0.0;
        for (var j = 0; j < x[unit].Length; j++)
        {
            mean += at[j] * x[unit][j];
        }

        return mean;
    }
}
