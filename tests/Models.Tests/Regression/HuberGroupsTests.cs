using MathNet.Numerics.Distributions;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.Regression;

public sealed class HuberGroupsTests
{
    [Fact]
    public void OneWildUnit_WorkedByHand()
    {
        // Median 2.5; deviations 0.5 0.5 1.5 1.5 2.5 47.5, the first left out: 1.5, so the spread is 2.2239 and the bend 2.99115. The mean solves 10 - 5 m + 2.99115 = 0.
        // Squares within the bend 10 + 5 (m - 2)^2 = 11.7894 and 2.99115^2; over 5 degrees of freedom and (5/6)^2, times K^2 with K = 1 + 1/6 (1/6)/(5/6).
        var fit = HuberGroups.Fit([0, 1, 2, 3, 4, 50], new int[6], 1);
        Assert.Equal(2.598231, fit.Means[0], 5);
        Assert.Equal(2.525243, fit.UnitSd, 4);
        Assert.Equal(2.525243 / Math.Sqrt(6), fit.StandardError(0), 4);
        Assert.Equal(5, fit.DegreesOfFreedom);

        // How wild it is makes no difference.
        var wilder = HuberGroups.Fit([0, 1, 2, 3, 4, 5e6], new int[6], 1);
        Assert.Equal(fit.Means[0], wilder.Means[0], 9);
        Assert.Equal(fit.UnitSd, wilder.UnitSd, 9);
    }

    [Fact]
    public void UnitsWithinTheBend_GiveMeansAndThePooledSpread()
    {
        // No deviation passes the bend, so this is the analysis of variance: squares 2 + 2 over 4 degrees of freedom.
        var fit = HuberGroups.Fit([1, 2, 3, 11, 12, 13], [0, 0, 0, 1, 1, 1], 2);
        Assert.Equal([2.0, 12.0], fit.Means.ToArray());
        Assert.Equal(1, fit.UnitSd, 12);
        Assert.Equal(2 * StudentT.CDF(0, 1, 4, -10 / Math.Sqrt(2.0 / 3)), fit.P(0, 1)!.Value, 12);
    }

    [Fact]
    public void EmptyGroupsAndSingleUnits_HaveNoErrors()
    {
        var fit = HuberGroups.Fit([1, 2], [0, 2], 3);
        Assert.Equal([1.0, double.NaN, 2.0], fit.Means.ToArray());
        Assert.Equal([1, 0, 1], fit.Counts.ToArray());
        Assert.Equal(0, fit.DegreesOfFreedom);
        Assert.Null(fit.P(0, 2));
        Assert.Empty(HuberGroups.Fit([], [], 0).Means);
        var equal = HuberGroups.Fit([3, 3, 3, 3], [0, 0, 1, 1], 2);
        Assert.Equal((0, null), (equal.UnitSd, equal.P(0, 1)));
        Assert.Throws<ArgumentException>(() => HuberGroups.Fit([double.NaN], [0], 1));
        Assert.Throws<ArgumentException>(() => HuberGroups.Fit([1], [1], 1));
    }

    [Theory]
    [InlineData(0, 935, 975)]
    [InlineData(0.1, 930, 985)]
    public void Limits_HoldTheTruthAsOftenAsSaid(double wild, int least, int most)
    {
        // Four groups of four units, some of them wild to either side: 1000 sets, 950 expected, standard deviation 7.
        var random = new Random(32);
        var held = Enumerable.Range(0, 1000).Count(_ =>
        {
            var values = Enumerable.Range(0, 16).Select(_ => Normal.Sample(random, 5, random.NextDouble() < wild ? 8 : 1)).ToArray();
            var fit = HuberGroups.Fit(values, [.. Enumerable.Range(0, 16).Select(i => i / 4)], 4);
            return Math.Abs(fit.Means[2] - 5) <= fit.HalfWidth(2, 0.95);
        });
        Assert.InRange(held, least, most);
    }
}
