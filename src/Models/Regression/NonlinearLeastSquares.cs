using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using MathNet.Numerics.Optimization;

namespace Vanehour.Models.Regression;

/// <summary>
/// Unweighted nonlinear least squares: the parameters that minimise the sum of (y - f(x; parameters))^2, with their standard errors.
/// </summary>
/// <remarks>
/// The minimiser is MathNet.Numerics' Levenberg-Marquardt. Its damping is one number for all parameters, so it is quickest where a unit step of each changes
/// the model by about as much; scaling by the Jacobian at the start was tried and lost a hard case (MGH17 from its far start). Two things are put around it:
/// <list type="bullet">
/// <item>It solves normal equations and may return the last point it tried and refused, so its answer is refined by a few Gauss-Newton steps through a QR
/// decomposition, which also gives the covariance at full precision.</item>
/// <item>It throws on parameters that run off to infinity, and its own QR answers rank-deficient problems without a word: both become a status.</item>
/// </list>
/// Checked against the certified values of [NIST] NIST/ITL Statistical Reference Datasets, nonlinear regression, from both published starts.
/// Cost: some tens of evaluations of the model and its gradient for each observation.
/// </remarks>
public static class NonlinearLeastSquares
{
    // A column that is this close to the span of the others (its length being 1) carries less than four digits of information: not identified.
    private const double RankTolerance = 1e-12;

    // Rounding in the model's values lets Gauss-Newton steps settle at about this part of the parameters.
    private const double RefinedStep = 1e-11;

    // How far rounding may raise the sum of squares between two points that are both at the minimum.
    private const double RoundingOfSum = 1e-9;

    // A step of this share of a standard error, or of the parameter where the data leave nothing open, is as good as none.
    private const double SettledShareOfError = 1e-3;
    private const double SettledShare = 1e-7;

    private const int MaxRefinements = 12;

    /// <summary>Fits <paramref name="function"/> to observations.</summary>
    /// <param name="function">The model.</param>
    /// <param name="gradient">Its derivatives, or null to take fourth-order central differences.</param>
    /// <param name="x">The explanatory variable; finite, any order.</param>
    /// <param name="y">What was observed at each <paramref name="x"/>; as many, finite.</param>
    /// <param name="start">Starting values, one for each parameter; at least one.</param>
    /// <param name="lower">Lower bounds, one for each parameter, or empty for none.</param>
    /// <param name="upper">Upper bounds, one for each parameter, or empty for none; both or neither are given.</param>
    /// <param name="maxIterations">When to give up; positive.</param>
    /// <param name="stepTolerance">
    /// When the minimiser stops, before the refinement: once the length of a step is at most this times the squared length of the parameters. Loosen it, to save time,
    /// only where every parameter is scaled to be near 1.
    /// </param>
    /// <param name="startIsNear">The start is close to the minimum: the refinement is tried alone first, and the minimiser only where that does not settle. Saves time, changes no result.</param>
    /// <returns>
    /// Converged; Degenerate when there are no more observations than parameters or the data do not tell parameters apart;
    /// Failed when the start or the data are not finite or outside the bounds, or the minimiser did not get there. Never an exception for data.
    /// </returns>
    /// <exception cref="ArgumentException">Lengths that do not match, no parameters, or one kind of bound without the other.</exception>
    public static NonlinearFit Fit(
        NonlinearFunction function,
        NonlinearGradient? gradient,
        ReadOnlySpan<double> x,
        ReadOnlySpan<double> y,
        ReadOnlySpan<double> start,
        ReadOnlySpan<double> lower = default,
        ReadOnlySpan<double> upper = default,
        int maxIterations = 1000,
        double stepTolerance = 1e-15,
        bool startIsNear = false)
    {
        ArgumentNullException.ThrowIfNull(function);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(maxIterations);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(stepTolerance);
        if (x.Length != y.Length)
        {
            throw new ArgumentException("There must be as many y as x.", nameof(y));
        }

        if (start.IsEmpty)
        {
            throw new ArgumentException("There must be at least one parameter.", nameof(start));
        }

        if (lower.Length != upper.Length || (lower.Length != 0 && lower.Length != start.Length))
        {
            throw new ArgumentException("Bounds are given on both sides for every parameter, or not at all.", nameof(lower));
        }

        var problem = new NonlinearProblem(function, gradient, x.ToArray(), y.ToArray(), lower.ToArray(), upper.ToArray());
        var at = start.ToArray();
        if (x.Length <= start.Length)
        {
            return WithoutEstimates(problem, at, 0, FitStatus.Degenerate, "There are no more observations than parameters: collect more, or fix a parameter.");
        }

        if (!problem.IsUsable(at))
        {
            return WithoutEstimates(problem, at, 0, FitStatus.Failed, "The start, the data or the model there are not finite, or the start is out of bounds: try another start.");
        }

        if (startIsNear && Refine(problem, at, 0) is { Status: FitStatus.Converged } near)
        {
            return near;
        }

        var (reached, iterations) = Minimise(problem, at, maxIterations, stepTolerance);
        if (reached is null)
        {
            return WithoutEstimates(problem, at, iterations, FitStatus.Failed, "The minimiser ran off or did not settle: try a start nearer the data, or bounds.");
        }

        return Refine(problem, reached, iterations);
    }

    private static (double[]? Reached, int Iterations) Minimise(NonlinearProblem problem, double[] start, int maxIterations, double stepTolerance)
    {
        var objective = ObjectiveFunction.NonlinearModel(
            (p, _) => Vector<double>.Build.Dense(problem.Values(AsArray(p))),
            (p, _) => problem.Jacobian(AsArray(p)),
            Vector<double>.Build.Dense(problem.X),
            Vector<double>.Build.Dense(problem.Y));
        var minimiser = new LevenbergMarquardtMinimizer(stepTolerance: stepTolerance, maximumIterations: maxIterations);
        try
        {
            var result = problem.HasBounds
                ? minimiser.FindMinimum(
                    objective,
                    Vector<double>.Build.DenseOfArray(start),
                    Vector<double>.Build.Dense(problem.Lower),
                    Vector<double>.Build.Dense(problem.Upper))
                : minimiser.FindMinimum(objective, Vector<double>.Build.DenseOfArray(start));
            var iterations = Math.Max(result.Iterations, 0);
            var settled = result.ReasonForExit is ExitCondition.Converged or ExitCondition.RelativePoints or ExitCondition.RelativeGradient;
            return (settled && result.MinimizingPoint is { } point ? point.ToArray() : null, iterations);
        }
        catch (Exception e) when (e is ArgumentException or ArithmeticException or OptimizationException or NonConvergenceException or SingularUMatrixException)
        {
            // What the library throws when a step leads out of the numbers.
            return (null, 0);
        }
    }

    private static NonlinearFit Refine(NonlinearProblem problem, double[] reached, int iterations)
    {
        var at = reached;
        var rss = problem.SumOfSquares(at);
        if (!double.IsFinite(rss))
        {
            return WithoutEstimates(problem, at, iterations, FitStatus.Failed, "The model is not finite at the minimum: try bounds.");
        }

        for (var i = 0; i < MaxRefinements; i++)
        {
            if (Decompose(problem, at) is not { } parts)
            {
                return NotIdentified(problem, at, iterations);
            }

            var step = parts.Step(problem.Residuals(at));
            var next = problem.Within(at, step);
            var nextRss = next is null ? double.NaN : problem.SumOfSquares(next);

            // Near the minimum the sum of squares no longer tells steps apart: rounding may raise it a little.
            if (!(nextRss <= rss * (1 + RoundingOfSum)))
            {
                break;
            }

            var small = IsSmall(step, at);
            (at, rss) = (next!, nextRss);
            iterations++;
            if (small)
            {
                break;
            }
        }

        if (Decompose(problem, at) is not { } final)
        {
            return NotIdentified(problem, at, iterations);
        }

        var n = problem.X.Length;
        var p = at.Length;
        var variance = rss / (n - p);
        var covariance = final.InverseOfNormal().Multiply(variance);
        var errors = ImmutableArray.CreateBuilder<double>(p);
        for (var j = 0; j < p; j++)
        {
            errors.Add(Math.Sqrt(covariance[j, j]));
        }

        // At a minimum the next step is nothing beside what the data leave open.
        var left = final.Step(problem.Residuals(at));
        for (var j = 0; j < p; j++)
        {
            if (!(Math.Abs(left[j]) <= Math.Max(SettledShareOfError * errors[j], SettledShare * Math.Abs(at[j]))))
            {
                return WithoutEstimates(problem, at, iterations, FitStatus.Failed, "The minimiser stopped short of a minimum: try a start nearer the data, or bounds.");
            }
        }

        return new NonlinearFit
        {
            Status = FitStatus.Converged,
            Estimates = [.. at],
            StandardErrors = errors.MoveToImmutable(),
            Covariance = [.. covariance.ToRowMajorArray()],
            ResidualStandardDeviation = Math.Sqrt(variance),
            ResidualSumOfSquares = rss,
            Observations = n,
            Iterations = iterations,
            Advice = string.Empty,
        };
    }

    private static bool IsSmall(double[] step, double[] at)
    {
        for (var j = 0; j < at.Length; j++)
        {
            if (Math.Abs(step[j]) > RefinedStep * Math.Abs(at[j]))
            {
                return false;
            }
        }

        return true;
    }

    private static Decomposition? Decompose(NonlinearProblem problem, double[] at)
    {
        var jacobian = problem.Jacobian(at);
        var lengths = jacobian.ColumnNorms(2);
        for (var j = 0; j < at.Length; j++)
        {
            if (!(lengths[j] > 0) || !double.IsFinite(lengths[j]))
            {
                return null;
            }

            jacobian.SetColumn(j, jacobian.Column(j) / lengths[j]);
        }

        var qr = jacobian.QR(QRMethod.Thin);
        for (var j = 0; j < at.Length; j++)
        {
            if (!(Math.Abs(qr.R[j, j]) > RankTolerance))
            {
                return null;
            }
        }

        return new Decomposition(qr, lengths);
    }

    private static NonlinearFit NotIdentified(NonlinearProblem problem, double[] at, int iterations) => WithoutEstimates(
        problem, at, iterations, FitStatus.Degenerate, "The data do not tell the parameters apart: fix one, or observe over a wider range.");

    private static NonlinearFit WithoutEstimates(NonlinearProblem problem, double[] at, int iterations, FitStatus status, string advice) => new()
    {
        Status = status,
        Estimates = [.. at],
        StandardErrors = [.. Enumerable.Repeat(double.NaN, at.Length)],
        Covariance = [.. Enumerable.Repeat(double.NaN, at.Length * at.Length)],
        ResidualStandardDeviation = double.NaN,
        ResidualSumOfSquares = double.NaN,
        Observations = problem.X.Length,
        Iterations = iterations,
        Advice = advice,
    };

    private static double[] AsArray(Vector<double> vector) => vector.AsArray() ?? vector.ToArray();

    /// <summary>The QR decomposition of the Jacobian with columns of length 1, and the lengths they had.</summary>
    private sealed record Decomposition(QR<double> Qr, Vector<double> Lengths)
    {
        /// <summary>The Gauss-Newton step for these residuals.</summary>
        public double[] Step(double[] residuals) => Qr.Solve(Vector<double>.Build.Dense(residuals)).PointwiseDivide(Lengths).ToArray();

        /// <summary>(J'J)^-1.</summary>
        public Matrix<double> InverseOfNormal()
        {
            var inverse = Qr.R.Inverse();
            var scaled = Matrix<double>.Build.Dense(inverse.RowCount, inverse.ColumnCount, (i, j) => inverse[i, j] / Lengths[i]);
            return scaled.TransposeAndMultiply(scaled);
        }
    }
}
