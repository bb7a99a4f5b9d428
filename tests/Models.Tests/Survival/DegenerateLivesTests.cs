using Vanehour.Models.Survival;

namespace Vanehour.Models.Tests.Survival;

public sealed class DegenerateLivesTests
{
    public static TheoryData<WeibullStatus, Lifetime[]> Unfitted => new()
    {
        { WeibullStatus.NoUnits, [] },
        { WeibullStatus.NoFailures, [Censored(100), Censored(200)] },
        { WeibullStatus.AllFailuresAtOnce, [Failed(100)] },
        { WeibullStatus.AllFailuresAtOnce, [Failed(100), Failed(100), Failed(100)] },
        { WeibullStatus.AllFailuresAtOnce, [Failed(100), Censored(100), Censored(40)] },
    };

    [Theory]
    [MemberData(nameof(Unfitted))]
    public void WhatHoldsNoDistribution_IsSaid(WeibullStatus status, Lifetime[] lives)
    {
        var fit = WeibullFit.Fit(lives);
        Assert.Equal(status, fit.Status);
        Assert.Equal(new EstimateWithLimits(null, null, null), fit.QuantileInterval(0.1));
        Assert.Equal(new EstimateWithLimits(null, null, null), fit.ShapeInterval());
    }

    [Fact]
    public void OneFailureAmongLongerLives_IsFitted()
    {
        var fit = WeibullFit.Fit([Failed(100), Censored(200), Censored(50)]);
        Assert.Equal(WeibullStatus.Fitted, fit.Status);
        Assert.InRange(fit.Shape, 0.1, 10);
        var b10 = fit.QuantileInterval(0.1);
        Assert.True(!(b10.Low > b10.Mid) && !(b10.Mid > b10.High));
    }

    [Fact]
    public void CovariatesThatSayTheSame_AreNotIdentified()
    {
        Lifetime[] lives = [Failed(100), Failed(140), Failed(210), Censored(250), Failed(300)];
        Assert.Equal(WeibullStatus.NotIdentified, WeibullFit.Fit(lives, [[1, 2], [2, 4], [3, 6], [4, 8], [5, 10]]).Status);
        Assert.Equal(WeibullStatus.NotIdentified, WeibullFit.Fit(lives, [[7], [7], [7], [7], [7]]).Status);
    }

    [Theory]
    [InlineData(0, double.NaN)]
    [InlineData(0, double.PositiveInfinity)]
    [InlineData(-1, 5)]
    [InlineData(5, 5)]
    [InlineData(double.NaN, 5)]
    [InlineData(0, 0)]
    public void AgesThatCannotBe_AreRefused(double entry, double exit)
    {
        Lifetime[] lives = [Failed(10), new(entry, exit, true)];
        Assert.Throws<ArgumentException>(() => WeibullFit.Fit(lives));
        Assert.Throws<ArgumentException>(() => KaplanMeier.Estimate(lives));
        Assert.Throws<ArgumentException>(() => LogRank.Test([lives, lives]));
    }

    [Fact]
    public void Curves_OfNothing_OfOne_AndOfAllCensored()
    {
        Assert.Empty(KaplanMeier.Estimate([]).Steps);
        Assert.Equal(new EstimateWithLimits(null, null, null), KaplanMeier.Estimate([Censored(10), Censored(20)]).Quantile(0.5));
        var one = KaplanMeier.Estimate([Failed(10)]);
        Assert.Equal((10, 0.0), (one.Quantile(0.5).Mid, one.Steps[0].Survival));
        Assert.Null(one.Steps[0].Low);
    }

    [Fact]
    public void LogRank_WithNothingToCompare_HasNoP()
    {
        Assert.Throws<ArgumentException>(() => LogRank.Test([[Failed(10)]]));
        Assert.Equal((0, null), Brief(LogRank.Test([[Censored(10)], [Censored(20)]])));
        Assert.Equal((0, null), Brief(LogRank.Test([[Failed(10), Failed(12)], []])));

        // A third group that was never at risk beside the others leaves the comparison of the first two as it is.
        Lifetime[] a = [Failed(10), Failed(20), Censored(30)];
        Lifetime[] b = [Failed(15), Failed(25), Failed(40)];
        var two = LogRank.Test([a, b]);
        var three = LogRank.Test([a, b, [new(50, 60, true)]]);
        Assert.Equal(1, three.DegreesOfFreedom);
        Assert.Equal(two.ChiSquare, three.ChiSquare, 9);
    }

    [Fact]
    public void AgeReplacement_RefusesWhatIsNoDistribution()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => AgeReplacement.Best(double.NaN, 1, 1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => AgeReplacement.Best(2, 0, 1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => AgeReplacement.Best(2, 1, -1, 2));
        Assert.Null(AgeReplacement.Best(1, 1000, 1, 4).Age);
    }

    private static (int, double?) Brief(LogRankResult result) => (result.DegreesOfFreedom, result.P);

    private static Lifetime Failed(double age) => new(0, age, true);

    private static Lifetime Censored(double age) => new(0, age, false);
}
