using FsCheck.Xunit;
using MathNet.Numerics.LinearAlgebra;
using Vanehour.Models.MixedEffects;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.MixedEffects;

/// <summary>The mixed model against hand arithmetic, a slow twin and what was drawn; other programs' values are in tests/Published.</summary>
public sealed class LinearMixedModelTests
{
    [Fact]
    public void TwoGroupsOfTwo_WorkedByHand()
    {
        // Groups 1, 3 and 7, 9: means 2 and 8, about them 2 on 2 degrees of freedom, so s2 = 2; the means differ by 6, variance 18 = between + s2/2, so between = 17.
        // The mean 5 has variance 18/2 = 9. A group's difference of -3 is drawn to 0 by 17/18: the mean's error comes in with that share beside the group's own 1/(1/17 + 2/2).
        var fit = LinearMixedModel.Fit(new MixedProblem { Columns = [], Rows = [[], [], [], []], Responses = [1, 3, 7, 9], Groups = ["a", "a", "b", "b"] });

        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.Equal(5, fit.Coefficients[0].Estimate, 1e-9);
        Assert.Equal(3, fit.Coefficients[0].StandardError, 1e-6);
        Assert.Equal(Math.Sqrt(2), fit.ResidualScale, 1e-6);
        Assert.Equal(17, fit.RandomCovariance[0], 1e-5);
        Assert.Equal(-3 * 17 / 18.0, fit.Groups[0].Effects[0].Estimate, 1e-6);
        Assert.Equal(Math.Sqrt((17 / 18.0) + (9 * 17 * 17 / 324.0)), fit.Groups[0].Effects[0].StandardError, 1e-6);
    }

    [Theory]
    [InlineData(MixedCriterion.Ml)]
    [InlineData(MixedCriterion.Reml)]
    public void LogLikelihood_IsThatOfTheDenseNormalDistribution(MixedCriterion criterion)
    {
        var (problem, _) = MadeGroups.Draw(new Random(5), 9, 6);
        var fit = LinearMixedModel.Fit(problem, criterion);
        var (logLikelihood, b, covariance) = Dense(problem, Matrix<double>.Build.Dense(2, 2, [.. fit.RandomCovariance]), fit.ResidualScale, criterion);

        Assert.Equal(logLikelihood, fit.LogLikelihood, 1e-8);
        for (var i = 0; i < 2; i++)
        {
            Assert.Equal(b[i], fit.Coefficients[i].Estimate, 1e-8);
            Assert.Equal(Math.Sqrt(covariance[i, i]), fit.Coefficients[i].StandardError, 1e-8);
        }
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.05, 0)]
    [InlineData(0.3, 50)]
    [InlineData(1, -3)]
    [InlineData(30, 0)]
    public void NoOtherCovariance_IsLikelier(double between, double offset)
    {
        var random = new Random(41);
        for (var i = 0; i < 20; i++)
        {
            var (problem, _) = MadeGroups.Draw(random, 9, 6, between, offset);
            var fit = LinearMixedModel.Fit(problem);
            Assert.Equal(FitStatus.Converged, fit.Status);
            for (var j = 0; j < 20; j++)
            {
                // A little away from the fit, or far from it.
                var away = Math.Pow(10, -3 * random.NextDouble());
                var factor = Matrix<double>.Build.Dense(2, 2, (_, _) => random.NextDouble() - 0.5);
                var other = Matrix<double>.Build.Dense(2, 2, [.. fit.RandomCovariance]);
                other = (other * (1 - (0.5 * away * random.NextDouble()))) + (away * fit.ResidualScale * fit.ResidualScale * factor * factor.Transpose());
                var scale = fit.ResidualScale * (1 + (away * (random.NextDouble() - 0.5)));
                Assert.True(Dense(problem, other, scale, MixedCriterion.Reml).LogLikelihood < fit.LogLikelihood + 1e-7, $"seed 41, draw {i}, other {j}");
            }
        }
    }

    [Fact]
    public void WhatWasDrawn_IsFound()
    {
        var (problem, truth) = MadeGroups.Draw(new Random(17), 400, 12);
        var fit = LinearMixedModel.Fit(problem);

        // Standard deviation of a standard deviation from 400 groups: 1 / sqrt(800) = 3.5 % and a little; three of them.
        Assert.Equal(MadeGroups.ConstantScale, fit.RandomScale(0), 0.12 * MadeGroups.ConstantScale);
        Assert.Equal(MadeGroups.SlopeScale, fit.RandomScale(1), 0.12 * MadeGroups.SlopeScale);
        Assert.Equal(MadeGroups.Correlation, fit.RandomCorrelation(0, 1), 0.14);
        Assert.Equal(MadeGroups.Scatter, fit.ResidualScale, 0.02);
        Assert.Equal(MadeGroups.Constant, fit.Coefficients[0].Estimate, 3 * fit.Coefficients[0].StandardError);
        Assert.Equal(MadeGroups.Slope, fit.Coefficients[1].Estimate, 3 * fit.Coefficients[1].StandardError);

        // What a prediction misses by, beside its standard error: 1 in the root mean square over 800, give or take 2.5 %.
        var misses = fit.Groups.Zip(truth).SelectMany(p => new[]
        {
            (p.First.Effects[0].Estimate - p.Second.Constant) / p.First.Effects[0].StandardError,
            (p.First.Effects[1].Estimate - p.Second.Slope) / p.First.Effects[1].StandardError,
        });
        Assert.InRange(Math.Sqrt(misses.Average(m => m * m)), 0.9, 1.1);
    }

    [Fact]
    public void LimitsOfTheSlope_HoldTheTruthAsOftenAsTheySay()
    {
        // 95 % by Student's t on groups less one, 300 samples: 285 expected, standard deviation 3.8.
        var random = new Random(23);
        var held = 0;
        for (var i = 0; i < 300; i++)
        {
            var slope = LinearMixedModel.Fit(MadeGroups.Draw(random, 12, 8).Problem).Coefficients[1];
            held += Math.Abs(slope.Estimate - MadeGroups.Slope) <= 2.201 * slope.StandardError ? 1 : 0;
        }

        Assert.InRange(held, 273, 297);
    }

    [Fact]
    public void GroupsFarApart_CostNoDigits()
    {
        // Differences between groups of 1e9 scatters: sums of products would have nothing left of the scatter.
        var (problem, _) = MadeGroups.Draw(new Random(3), 30, 10);
        var order = problem.Groups.Distinct().ToList();
        var far = problem with { Responses = [.. problem.Responses.Zip(problem.Groups, (y, g) => y + (5e8 * (order.IndexOf(g) % 7)))], RandomSlopes = [] };
        var fit = LinearMixedModel.Fit(far);
        var within = LinearMixedModel.Fit(problem with { RandomSlopes = [] });
        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.Equal(within.ResidualScale, fit.ResidualScale, 1e-3 * within.ResidualScale);
    }

    [Fact]
    public void NoDifferenceBetweenGroups_IsAZeroThatIsSaid()
    {
        // The same rows in every group: nothing is left between them.
        double[] x = [-1, 0, 1, 2];
        double[] y = [1, 0, 2, 1];
        var problem = new MixedProblem
        {
            Columns = ["x"],
            Rows = [.. Enumerable.Range(0, 20).Select(i => new[] { x[i % 4] })],
            Responses = [.. Enumerable.Range(0, 20).Select(i => y[i % 4])],
            Groups = [.. Enumerable.Range(0, 20).Select(i => $"P{i / 4}")],
        };
        var plain = WeightedLeastSquares.Fit(new LinearProblem { Columns = problem.Columns, Rows = problem.Rows, Responses = problem.Responses });
        foreach (var (slopes, words) in new[] { (Array.Empty<int>(), "no difference in \"constant\""), ([0], "variances between them are estimated as 0") })
        {
            var fit = LinearMixedModel.Fit(problem with { RandomSlopes = [.. slopes] });
            Assert.Equal((FitStatus.Converged, null, true), (fit.Status, fit.Reason, fit.IsOnBoundary));
            Assert.All(fit.RandomCovariance, v => Assert.Equal(0, v));
            Assert.Contains(words, Assert.Single(fit.Warnings), StringComparison.Ordinal);
            Assert.Equal(plain.ResidualScale, fit.ResidualScale, 1e-10);
            Assert.All(plain.Coefficients.Zip(fit.Coefficients), p => Assert.Equal(p.First.StandardError, p.Second.StandardError, 1e-10));
            Assert.All(fit.Groups, g => Assert.All(g.Effects, e => Assert.Equal((0.0, 0.0), (e.Estimate, e.StandardError))));
        }
    }

    [Fact]
    public void GroupsThatDifferInOneWayOnly_AreSaidToBePerfectlyCorrelated()
    {
        // Constant and slope move together, with no scatter of their own and hardly any within.
        var (problem, truth) = MadeGroups.Draw(new Random(31), 8, 5, between: 0);
        var order = problem.Groups.Distinct().ToList();
        var together = problem with
        {
            Responses = [.. problem.Responses.Select((y, i) => y + (Math.Sin(order.IndexOf(problem.Groups[i])) * (3 + (0.4 * problem.Rows[i][0]))))],
        };
        var fit = LinearMixedModel.Fit(together);
        Assert.Equal(truth.Count, fit.Groups.Length);
        Assert.Equal((FitStatus.Converged, true), (fit.Status, fit.IsOnBoundary));
        Assert.Contains("perfectly correlated", Assert.Single(fit.Warnings), StringComparison.Ordinal);
        Assert.Equal(1, fit.RandomCorrelation(0, 1), 1e-6);
    }

    [Property]
    public void UnitsAndOrder_ChangeNothingElse(int seed)
    {
        var random = new Random(seed);
        var (problem, _) = MadeGroups.Draw(random, 12, 7);
        var plain = LinearMixedModel.Fit(problem);
        var order = Enumerable.Range(0, problem.Rows.Count).ToArray();
        random.Shuffle(order);
        var scaled = LinearMixedModel.Fit(problem with
        {
            Rows = [.. order.Select(i => new[] { (1000 * problem.Rows[i][0]) + 5000 })],
            Responses = [.. order.Select(i => 0.01 * problem.Responses[i])],
            Groups = [.. order.Select(i => problem.Groups[i])],
        });
        Assert.Equal(plain.Status, scaled.Status);
        Near(plain.Coefficients[1].Estimate, 1e5 * scaled.Coefficients[1].Estimate);
        Near(plain.Coefficients[1].StandardError, 1e5 * scaled.Coefficients[1].StandardError);
        Near(plain.ResidualScale, 100 * scaled.ResidualScale);
        Near(plain.RandomCovariance[3], 1e10 * scaled.RandomCovariance[3]);

        // Densities of rows in units a hundred times as large; the restricted likelihood has the constant and the slope besides.
        var n = problem.Rows.Count;
        Assert.Equal(plain.LogLikelihood + ((n - 2) * Math.Log(100)) + Math.Log(1 / 1000.0), scaled.LogLikelihood, 1e-6);
    }

    /// <summary>The slow twin: the density of all rows at once.</summary>
    private static (double LogLikelihood, Vector<double> B, Matrix<double> Covariance) Dense(MixedProblem problem, Matrix<double> between, double scale, MixedCriterion criterion)
    {
        var n = problem.Rows.Count;
        var x = Matrix<double>.Build.Dense(n, 2, (i, j) => j == 0 ? 1 : problem.Rows[i][0]);
        var v = Matrix<double>.Build.Dense(n, n, (i, j) => (problem.Groups[i] == problem.Groups[j] ? x.Row(i) * between * x.Row(j) : 0) + (i == j ? scale * scale : 0));
        var root = v.Cholesky();
        var covariance = (x.Transpose() * root.Solve(x)).Inverse();
        var y = Vector<double>.Build.DenseOfEnumerable(problem.Responses);
        var b = covariance * x.Transpose() * root.Solve(y);
        var r = y - (x * b);
        var logLikelihood = -0.5 * ((n * Math.Log(2 * Math.PI)) + root.DeterminantLn + (r * root.Solve(r)));
        return (logLikelihood + (criterion == MixedCriterion.Reml ? 0.5 * ((2 * Math.Log(2 * Math.PI)) + Math.Log(covariance.Determinant())) : 0), b, covariance);
    }

    private static void Near(double wanted, double actual) => Assert.Equal(wanted, actual, 1e-4 * Math.Abs(wanted));
}
