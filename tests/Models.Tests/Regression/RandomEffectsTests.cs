using MathNet.Numerics.Distributions;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.Regression;

public sealed class RandomEffectsTests
{
    [Fact]
    public void TwoUnits_WorkedByHand()
    {
        // Squares (1 + 1)/(1 + t2) are 1 at t2 = 1; the mean is 2 with variance (1 + 1)/2.
        var fit = RandomEffects.Fit([1, 3], [1, 1], [0, 0], 1)!;
        Assert.Equal(1, fit.BetweenSd, 9);
        Assert.Equal(2, fit.Groups.Means[0], 12);
        Assert.Equal(1, fit.Groups.StandardError(0), 9);
        Assert.Equal(1, fit.Groups.DegreesOfFreedom);
        Assert.Equal(Math.Sqrt(2), fit.Groups.UnitSd, 9);
        Assert.Equal(StudentT.InvCDF(0, 1, 1, 0.975), fit.Groups.HalfWidth(0, 0.95), 8);
    }

    [Fact]
    public void UnitsThatDifferLessThanTheirErrors_HaveNoSpreadOfTheirOwn()
    {
        var fit = RandomEffects.Fit([1, 1.1, 2, 2.1], [1, 1, 1, 1], [0, 0, 1, 1], 2)!;
        Assert.Equal(0, fit.BetweenSd);
        Assert.Equal([1.05, 2.05], fit.Groups.Means.Select(m => Math.Round(m, 12)));
        Assert.Equal(Math.Sqrt(0.5), fit.Groups.StandardError(1), 12);

        // The two means differ by 1 with variance 1/2 + 1/2: t = 1 with 2 degrees of freedom.
        Assert.Equal(2 * StudentT.CDF(0, 1, 2, -1), fit.Groups.P(0, 1)!.Value, 9);
    }

    [Fact]
    public void ExactUnits_WeighMore_AndSlopesAreTakenOut()
    {
        // y = 5 + 2x without noise, one unit off by 1 but known badly.
        double[][] x = [[0], [1], [2], [3], [4]];
        var fit = RandomEffects.Fit([5, 7, 9, 11, 14], [0.1, 0.1, 0.1, 0.1, 100], [0, 0, 0, 0, 0], 1, x)!;
        Assert.Equal(5, fit.Groups.Means[0], 3);
        Assert.Equal(2, fit.Slopes[0], 3);
        Assert.Equal(0, fit.BetweenSd);
    }

    [Fact]
    public void AMultiplier_LetsAUnitBeFurtherAway()
    {
        var alike = RandomEffects.Fit([0, 0, 0, 6], [1, 1, 1, 1], [0, 0, 0, 0], 1)!;
        var wild = RandomEffects.Fit([0, 0, 0, 6], [1, 1, 1, 1], [0, 0, 0, 0], 1, null, [1, 1, 1, 4])!;
        Assert.True(wild.Groups.Means[0] < alike.Groups.Means[0]);
        Assert.True(wild.BetweenSd < alike.BetweenSd);
    }

    [Fact]
    public void WhatCannotBeTold_IsNull()
    {
        Assert.Null(RandomEffects.Fit([1, 2, 3, 4], [1, 1, 1, 1], [0, 0, 1, 1], 2, [[0], [0], [1], [1]]));
        Assert.Null(RandomEffects.Fit([1, 2], [1, 1], [0, 0], 1, [[1, 0], [0, 1]]));
        var alone = RandomEffects.Fit([1, 2], [1, 1], [0, 1], 2)!;
        Assert.Equal([1.0, 2.0], alone.Groups.Means.ToArray());
        Assert.Equal(0, alone.Groups.DegreesOfFreedom);
        Assert.True(double.IsNaN(alone.Groups.HalfWidth(0, 0.95)));
        Assert.Null(alone.Groups.P(0, 1));
    }

    [Fact]
    public void BadInput_IsRefused()
    {
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([], [], [], 0));
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([double.NaN], [1], [0], 1));
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([1], [0], [0], 1));
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([1, 2], [1, 1], [0, 2], 3));
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([1, 2], [1, 1], [0, 0], 1, [[1], [double.PositiveInfinity]]));
        Assert.Throws<ArgumentException>(() => RandomEffects.Fit([1, 2], [1, 1], [0, 0], 1, null, [1, 0]));
    }

    [Fact]
    public void Limits_HoldTheTruthNearlyAsOftenAsSaid()
    {
        // Three groups of four units, errors of their own from a third of to three times the spread between. Of 1000 sets 950 would be held if the weights were known;
        // they are learned, and 926 were.
        var random = new Random(31);
        var held = Enumerable.Range(0, 1000).Count(_ =>
        {
            var errors = Enumerable.Range(0, 12).Select(_ => Math.Exp((random.NextDouble() - 0.5) * 2.2)).ToArray();
            var values = errors.Select(e => Normal.Sample(random, 5, Math.Sqrt(1 + (e * e)))).ToArray();
            var fit = RandomEffects.Fit(values, errors, [.. Enumerable.Range(0, 12).Select(i => i / 4)], 3)!;
            return Math.Abs(fit.Groups.Means[1] - 5) <= fit.Groups.HalfWidth(1, 0.95);
        });
        Assert.InRange(held, 905, 960);
    }
}
