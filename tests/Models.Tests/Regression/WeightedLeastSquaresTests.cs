using FsCheck.Xunit;
using MathNet.Numerics.Distributions;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.Regression;

public sealed class WeightedLeastSquaresTests
{
    [Fact]
    public void Fit_WorkedByHand_WeightsCountAsRepeats()
    {
        // y = 1, 3 at x = 0 (mean 2), y = 5 at x = 1 twice: constant 2, slope 3, rss 2; weight 2 stands for the repeat, n differs.
        var repeated = Fit([[0], [0], [1], [1]], [1, 3, 5, 5]);
        var weighted = Fit([[0], [0], [1]], [1, 3, 5], [1, 1, 2]);

        Assert.Equal(2, repeated.Coefficients[0].Estimate, 12);
        Assert.Equal(3, repeated.Coefficients[1].Estimate, 12);
        Assert.Equal(1, repeated.ResidualScale, 12);
        Assert.Equal(1 - (2.0 / 11), repeated.RSquared, 12);
        Assert.Equal(2, weighted.Coefficients[0].Estimate, 12);
        Assert.Equal(3, weighted.Coefficients[1].Estimate, 12);
        Assert.Equal(Math.Sqrt(2), weighted.ResidualScale, 12);

        // s2 (X'WX)^-1 with X'WX = [[4, 2], [2, 2]]: inverse [[.5, -.5], [-.5, 1]].
        Assert.Equal(2 * 0.5, weighted.CovarianceOf(0, 0), 12);
        Assert.Equal(2 * -0.5, weighted.CovarianceOf(0, 1), 12);
        Assert.Equal(2 * 1.0, weighted.CovarianceOf(1, 1), 12);
    }

    [Fact]
    public void Fit_DependentColumns_SaysWhich()
    {
        double[][] rows = [.. Enumerable.Range(0, 30).Select(i => new[] { i * 0.37, Math.Sin(i), (i * 0.74) - (3 * Math.Sin(i)) + 8 })];
        var fit = Fit(rows, [.. rows.Select(r => r[0])]);

        Assert.Equal(FitStatus.Degenerate, fit.Status);
        Assert.Contains("\"x3\" is a combination", fit.Reason, StringComparison.Ordinal);
        Assert.Empty(fit.Coefficients);
        Assert.Throws<InvalidOperationException>(() => fit.Predict([1, 2, 3], 1, 0.95));
    }

    [Fact]
    public void Fit_ConstantColumn_SaysSo()
    {
        double[][] rows = [.. Enumerable.Range(0, 30).Select(i => new[] { 0.1 + 0.2, i })];
        Assert.Contains("\"x1\" does not vary", Fit(rows, [.. rows.Select(r => r[1])]).Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Fit_TooFewRows_IsDegenerate(int n)
    {
        double[][] rows = [.. Enumerable.Range(0, n).Select(i => new[] { (double)i })];
        var fit = Fit(rows, [.. rows.Select(r => r[0])]);
        Assert.Equal(FitStatus.Degenerate, fit.Status);
        Assert.NotNull(fit.Reason);
    }

    [Fact]
    public void Fit_NotFinite_IsRefused()
    {
        Assert.Throws<ArgumentException>(() => Fit([[1], [double.NaN], [3], [4]], [1, 2, 3, 4]));
        Assert.Throws<ArgumentException>(() => Fit([[1], [2], [3], [4]], [1, 2, 3, 4], [1, 1, 0, 1]));
    }

    [Property]
    public void Fit_ScalingAColumn_ScalesItsCoefficientAlone(int seed, bool tiny)
    {
        var k = tiny ? 1e-9 : 1e7;
        var (rows, y, w) = Draw(new Random(seed), 25);
        var plain = Fit(rows, y, w);
        var scaled = Fit([.. rows.Select(r => new[] { r[0] * k, r[1] })], y, w);

        Near(plain.Coefficients[1].Estimate / k, scaled.Coefficients[1].Estimate);
        Near(plain.Coefficients[1].StandardError / k, scaled.Coefficients[1].StandardError);
        Near(plain.Coefficients[2].Estimate, scaled.Coefficients[2].Estimate);
        Near(plain.ResidualScale, scaled.ResidualScale);
    }

    [Property]
    public void Fit_ScalingWeights_ChangesOnlyTheScale(int seed)
    {
        var (rows, y, w) = Draw(new Random(seed), 25);
        var plain = Fit(rows, y, w);
        var scaled = Fit(rows, y, [.. w.Select(x => 9 * x)]);

        Near(plain.Coefficients[1].Estimate, scaled.Coefficients[1].Estimate);
        Near(plain.Coefficients[1].StandardError, scaled.Coefficients[1].StandardError);
        Near(3 * plain.ResidualScale, scaled.ResidualScale);
    }

    [Fact]
    public void Predict_CoversNewObservations_AtItsLevel()
    {
        // Gaussian noise with variance s2/w, which is what the interval assumes. One new observation a fit, so that trials are independent.
        const int trials = 4000;
        const double level = 0.95;
        var random = new Random(20260101);
        var covered = 0;
        for (var t = 0; t < trials; t++)
        {
            var (rows, y, w) = Draw(random, 12);
            var (newRows, newY, newW) = Draw(random, 1);
            var prediction = Fit(rows, y, w).Predict(newRows[0], newW[0], level);
            covered += newY[0] >= prediction.Low && newY[0] <= prediction.High ? 1 : 0;
        }

        // 99.9 % two-sided normal limits of a binomial.
        var half = 3.29 * Math.Sqrt(level * (1 - level) / trials);
        Assert.InRange(covered / (double)trials, level - half, level + half);
    }

    private static (double[][] Rows, double[] Y, double[] Weights) Draw(Random random, int n)
    {
        var rows = new double[n][];
        var y = new double[n];
        var w = new double[n];
        for (var i = 0; i < n; i++)
        {
            rows[i] = [random.NextDouble() * 10, Normal.Sample(random, 5, 2)];
            w[i] = 0.1 + (2 * random.NextDouble());
            y[i] = 3 + (0.7 * rows[i][0]) - (1.2 * rows[i][1]) + (Normal.Sample(random, 0, 0.5) / Math.Sqrt(w[i]));
        }

        return (rows, y, w);
    }

    private static void Near(double expected, double actual) => Assert.Equal(expected, actual, Math.Abs(expected) * 1e-9);

    private static LinearFit Fit(double[][] rows, double[] y, double[]? w = null) => WeightedLeastSquares.Fit(new LinearProblem
    {
        Columns = [.. Enumerable.Range(1, rows.Length == 0 ? 1 : rows[0].Length).Select(i => $"x{i}")],
        Rows = rows,
        Responses = y,
        Weights = w,
    });
}
