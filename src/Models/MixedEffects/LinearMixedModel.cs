using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using Vanehour.Models.Regression;

namespace Vanehour.Models.MixedEffects;

/// <summary>A linear model with effects that differ between groups, such as the wear rates of pumps of one model.</summary>
/// <remarks>
/// The likelihood, with fixed effects and residual scale profiled out, is climbed over the relative covariance factor of [Bates] (see <see cref="MixedDeviance"/>). Groups are
/// reduced to their triangles once. Checked against R's nlme, which is another method, in tests/Published/MixedModels. Cost: rows times columns squared, and some
/// hundred times the groups.
/// </remarks>
public static class LinearMixedModel
{
    // Left of the sum of squares about the fixed effects when groups explain all the rest; above what rounding leaves.
    private const double NoScatter = 1e-20;

    /// <summary>Fits <paramref name="problem"/>.</summary>
    /// <returns>
    /// The fit; <see cref="FitStatus.Degenerate"/> where rows or groups are too few, columns depend on one another or nothing scatters; <see cref="FitStatus.Failed"/> where a value is not
    /// finite or the search did not settle. A variance of 0 between groups is an estimate like any other, with a warning. Never an exception for data.
    /// </returns>
    /// <exception cref="ArgumentException">Lengths disagree, there is no random effect, or a random slope is no column.</exception>
    public static MixedFit Fit(MixedProblem problem, MixedCriterion criterion = MixedCriterion.Reml)
    {
        ArgumentNullException.ThrowIfNull(problem);
        Check(problem);
        if (Unusable(problem) is { } row)
        {
            return None(problem, criterion, FitStatus.Failed, string.Create(CultureInfo.InvariantCulture, $"Row {row} has a value that is not finite; leave it out."));
        }

        // Least squares without groups says first whether the columns can be told apart.
        var plain = WeightedLeastSquares.Fit(new LinearProblem { Columns = problem.Columns, Rows = problem.Rows, Responses = problem.Responses, Intercept = problem.Intercept });
        if (plain.Status != FitStatus.Converged)
        {
            return None(problem, criterion, plain.Status, plain.Reason!, plain.OffendingColumn);
        }

        var residuals = Residuals(problem, plain);
        var scale = new MixedScale(problem);
        var deviance = new MixedDeviance(problem, residuals, scale, criterion);
        if (Refusal(problem, deviance, scale, residuals) is { } refusal)
        {
            return None(problem, criterion, FitStatus.Degenerate, refusal);
        }

        return new DevianceMinimum(deviance).Find() is { } found
            ? Result(problem, criterion, plain, scale, deviance, found.Theta, found.IsOnBoundary)
            : None(problem, criterion, FitStatus.Failed, "The search for the variances did not settle; try fewer random effects.");
    }

    private static MixedFit Result(MixedProblem problem, MixedCriterion criterion, LinearFit plain, MixedScale scale, MixedDeviance deviance, Vector<double> theta, bool isOnBoundary)
    {
        var solution = deviance.Solve(theta);
        var fixedBack = scale.FixedBack();
        var randomBack = scale.RandomBack();
        var effects = fixedBack * solution.Effects;
        var covariance = fixedBack * solution.Covariance * fixedBack.Transpose();
        var between = randomBack * solution.RandomCovariance * randomBack.Transpose();
        ImmutableArray<string> names = [.. problem.RandomIntercept ? ["constant"] : Array.Empty<string>(), .. problem.RandomSlopes.Select(j => problem.Columns[j])];
        return new MixedFit
        {
            Status = FitStatus.Converged,
            Criterion = criterion,
            Coefficients = [.. plain.Coefficients.Select((c, i) => new Coefficient(c.Name, c.Estimate + effects[i], Math.Sqrt(covariance[i, i])))],
            Covariance = [.. covariance.ToRowMajorArray()],
            RandomNames = names,
            RandomCovariance = [.. between.ToRowMajorArray()],
            IsOnBoundary = isOnBoundary,
            ResidualScale = solution.ResidualScale,
            LogLikelihood = solution.LogLikelihood,
            Observations = deviance.Observations,
            Groups = [.. deviance.Groups.Zip(solution.Predictions, (g, p) => Effect(g, names, randomBack * p.Effects, randomBack * p.Covariance * randomBack.Transpose()))],
            Warnings = isOnBoundary ? [BoundaryWarning(names, between)] : [],
        };
    }

    private static GroupEffect Effect(GroupSums group, ImmutableArray<string> names, Vector<double> effects, Matrix<double> covariance) =>
        new(group.Name, group.Observations, [.. names.Select((n, i) => new Coefficient(n, effects[i], Math.Sqrt(covariance[i, i])))]);

    private static string BoundaryWarning(ImmutableArray<string> names, Matrix<double> between)
    {
        var still = names.Where((_, i) => between[i, i] <= 0).ToList();
        return still.Count switch
        {
            0 => "The random effects are perfectly correlated: the data hold fewer ways in which groups differ than were asked for.",
            1 => $"The groups show no difference in \"{still[0]}\" beyond the scatter of their rows: its variance is estimated as 0.",
            _ => "The groups show no difference beyond the scatter of their rows: the variances between them are estimated as 0.",
        };
    }

    private static string? Refusal(MixedProblem problem, MixedDeviance deviance, MixedScale scale, double[] residuals)
    {
        var groups = deviance.Groups;
        if (groups.Count < 2)
        {
            return "There is one group, which tells nothing of how groups differ; use least squares.";
        }

        if (groups.All(g => g.Rank < scale.RandomCount))
        {
            return problem.RandomSlopes.Length == 0
                ? "No group has a row that tells its own constant."
                : "No group has rows that tell its own slope; leave the random slope out.";
        }

        if (deviance.Observations - groups.Sum(g => g.Rank) < 1)
        {
            return "Each group has no more rows than effects of its own, so that scatter within groups is not told from differences between them; wait for more rows.";
        }

        var total = residuals.Sum(r => r * r);
        var size = problem.Responses.Sum(y => y * y);
        return deviance.WithinSumOfSquares() <= NoScatter * total || total <= NoScatter * size
            ? "The rows of each group lie on its line exactly; without scatter there is no likelihood."
            : null;
    }

    private static double[] Residuals(MixedProblem problem, LinearFit plain)
    {
        var first = problem.Intercept ? 1 : 0;
        var b = plain.Coefficients.Select(c => c.Estimate).ToArray();
        var residuals = new double[problem.Rows.Count];
        for (var i = 0; i < residuals.Length; i++)
        {
            var row = problem.Rows[i];
            var mean = problem.Intercept ? b[0] : 0;
            for (var j = 0; j < row.Length; j++)
            {
                mean += b[j + first] * row[j];
            }

            residuals[i] = problem.Responses[i] - mean;
        }

        return residuals;
    }

    private static int? Unusable(MixedProblem problem)
    {
        for (var i = 0; i < problem.Rows.Count; i++)
        {
            if (!double.IsFinite(problem.Responses[i]) || !Array.TrueForAll(problem.Rows[i], double.IsFinite))
            {
                return i;
            }
        }

        return null;
    }

    private static MixedFit None(MixedProblem problem, MixedCriterion criterion, FitStatus status, string reason, int? column = null) => new()
    {
        Status = status,
        Reason = reason,
        OffendingColumn = column,
        Criterion = criterion,
        Observations = problem.Rows.Count,
    };

    private static void Check(MixedProblem problem)
    {
        if (problem.Responses.Count != problem.Rows.Count || problem.Groups.Count != problem.Rows.Count || problem.Rows.Any(r => r.Length != problem.Columns.Length))
        {
            throw new ArgumentException("Rows, responses and groups must be equally many, and each row as long as there are columns.", nameof(problem));
        }

        if (!problem.RandomIntercept && problem.RandomSlopes.Length == 0)
        {
            throw new ArgumentException("There must be a random effect.", nameof(problem));
        }

        if (problem.RandomSlopes.Any(j => j < 0 || j >= problem.Columns.Length) || problem.RandomSlopes.Distinct().Count() != problem.RandomSlopes.Length)
        {
            throw new ArgumentException("Random slopes are columns, each once.", nameof(problem));
        }
    }
}
