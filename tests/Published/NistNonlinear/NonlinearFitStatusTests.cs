using Vanehour.Models.Regression;

namespace Vanehour.Published.NistNonlinear;

/// <summary>What data and starts may do to a nonlinear fit: a status, never an exception.</summary>
public class NonlinearFitStatusTests
{
    private static readonly double[] X = [0, 1, 2, 3, 4, 5, 6, 7];
    private static readonly double[] Y = [0, 6.3, 8.7, 9.4, 9.9, 9.9, 10.1, 10];

    [Fact]
    public void GoodStart_Converges()
    {
        var fit = NonlinearLeastSquares.Fit(Rise, null, X, Y, [5, 0.5]);

        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.Empty(fit.Advice);
        Assert.Equal(8, fit.Observations);
        Assert.Equal(6, fit.DegreesOfFreedom);
        Assert.InRange(fit.Estimates[0], 9.8, 10.2);
        Assert.Equal(fit.CovarianceOf(0, 1), fit.CovarianceOf(1, 0), 1e-15);
    }

    [Theory]
    [InlineData(9, 0.9)]
    [InlineData(500, 9)]
    public void StartSaidToBeNear_GivesTheSameFitWhetherItIsOrNot(double a, double b)
    {
        var expected = NonlinearLeastSquares.Fit(Rise, null, X, Y, [5, 0.5]);

        var fit = NonlinearLeastSquares.Fit(Rise, null, X, Y, [a, b], startIsNear: true);

        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.Equal(expected.Estimates[0], fit.Estimates[0], 1e-8);
        Assert.Equal(expected.StandardErrors[1], fit.StandardErrors[1], 1e-8);
    }

    [Theory]
    [InlineData(double.NaN, 0.5)]
    [InlineData(double.PositiveInfinity, 0.5)]
    [InlineData(5, -1e6)]
    public void BadStart_Fails(double a, double b) => AssertNone(FitStatus.Failed, NonlinearLeastSquares.Fit(Rise, null, X, Y, [a, b]));

    [Fact]
    public void NaNInTheData_Fails() => AssertNone(FitStatus.Failed, NonlinearLeastSquares.Fit(Rise, null, X, [0, double.NaN, 1, 2, 3, 4, 5, 6], [5, 0.5]));

    [Fact]
    public void StartOutsideTheBounds_Fails() =>
        AssertNone(FitStatus.Failed, NonlinearLeastSquares.Fit(Rise, null, X, Y, [5, 0.5], [6, 0], [20, 5]));

    [Fact]
    public void TooFewObservations_AreDegenerate() => AssertNone(FitStatus.Degenerate, NonlinearLeastSquares.Fit(Rise, null, X.AsSpan(0, 2), Y.AsSpan(0, 2), [5, 0.5]));

    [Fact]
    public void ParametersThatOnlyCountTogether_AreDegenerate() =>
        AssertNone(FitStatus.Degenerate, NonlinearLeastSquares.Fit((p, x) => (p[0] + p[1]) * x, null, X, Y, [1, 1]));

    [Fact]
    public void MinimumAtInfinity_IsNotConverged()
    {
        // Falling data: the best rise is none at all, with a rate that nothing tells.
        var fit = NonlinearLeastSquares.Fit(Rise, null, X, [5, 4, 3, 2, 1, 0, -1, -2], [5, 0.5], maxIterations: 50);

        Assert.True(fit.Status != FitStatus.Converged || fit.StandardErrors.All(double.IsFinite));
    }

    [Fact]
    public void Bounds_Hold()
    {
        var fit = NonlinearLeastSquares.Fit(Rise, null, X, Y, [5, 0.5], [0, 0], [20, 5]);

        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.InRange(fit.Estimates[0], 9.8, 10.2);
    }

    [Fact]
    public void ModelThatIsNaNSomewhere_NeverThrows()
    {
        var random = new Random(1);
        for (var i = 0; i < 300; i++)
        {
            double[] start = [random.NextDouble() * 20, (random.NextDouble() * 4) - 2];
            var fit = NonlinearLeastSquares.Fit((p, x) => p[0] * Math.Log(p[1] + x), null, X, Y, start);
            Assert.True(fit.Status == FitStatus.Converged || fit.Advice.Length > 0);
        }
    }

    [Fact]
    public void LengthsThatDoNotMatch_AreTheProgrammersFault()
    {
        Assert.Throws<ArgumentException>(() => NonlinearLeastSquares.Fit(Rise, null, X, Y.AsSpan(0, 3), [5, 0.5]));
        Assert.Throws<ArgumentException>(() => NonlinearLeastSquares.Fit(Rise, null, X, Y, []));
        Assert.Throws<ArgumentException>(() => NonlinearLeastSquares.Fit(Rise, null, X, Y, [5, 0.5], [0], [1]));
    }

    private static double Rise(ReadOnlySpan<double> p, double x) => p[0] * (1 - Math.Exp(-p[1] * x));

    private static void AssertNone(FitStatus status, NonlinearFit fit)
    {
        Assert.Equal(status, fit.Status);
        Assert.NotEmpty(fit.Advice);
        Assert.All(fit.StandardErrors, se => Assert.True(double.IsNaN(se)));
        Assert.True(double.IsNaN(fit.ResidualStandardDeviation));
    }
}
