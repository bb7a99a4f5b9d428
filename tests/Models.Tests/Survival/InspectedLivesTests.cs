using MathNet.Numerics.Distributions;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Tests.Survival;

/// <summary>Failures found at inspections; other programs' values are in tests/Published.</summary>
public sealed class InspectedLivesTests
{
    private const double Shape = 2.2;
    private const double Scale = 1500;

    public static TheoryData<WeibullStatus, Lifetime[]> Unfitted => new()
    {
        // One age, from 100 to 120, would do for all.
        { WeibullStatus.AllFailuresAtOnce, [Found(0, 120), Found(100, 200), Found(50, 150)] },
        { WeibullStatus.AllFailuresAtOnce, [Found(80, 120), new(0, 100, true), new(0, 90, false)] },

        // One inspection of all at one age tells one share and no more.
        { WeibullStatus.NotIdentified, [Found(0, 100), Found(0, 100), new(0, 100, false)] },
    };

    [Theory]
    [MemberData(nameof(Unfitted))]
    public void WhatHoldsNoDistribution_IsSaid(WeibullStatus status, Lifetime[] lives) => Assert.Equal(status, WeibullFit.Fit(lives).Status);

    [Fact]
    public void TwoInspectionsOfExponentialShares_WorkedByHand()
    {
        // Of 8, 4 fail by 100 and 2 more by 200: survival 1/2 and 1/4, which shape 1 and scale 100 / ln 2 give exactly; likelihood (1/2)^4 (1/4)^2 (1/4)^2.
        Lifetime[] lives = [.. Enumerable.Repeat(Found(0, 100), 4), .. Enumerable.Repeat(Found(100, 200), 2), .. Enumerable.Repeat(new Lifetime(0, 200, false), 2)];
        var fit = WeibullFit.Fit(lives);
        Assert.Equal(1, fit.Shape, 1e-8);
        Assert.Equal(100 / Math.Log(2), fit.Scale, 1e-6);
        Assert.Equal(-12 * Math.Log(2), fit.LogLikelihood, 1e-10);
    }

    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-7)]
    public void ANarrowInterval_IsAFailureSeen(double width)
    {
        var lives = Draw(new Random(4), 40, 0);
        var seen = WeibullFit.Fit(lives);
        var found = WeibullFit.Fit([.. lives.Select(l => l.HasFailed ? l with { FineUntil = Math.Max(l.Entry, l.Exit - (width * l.Exit)) } : l)]);

        // Ages half a width early.
        Assert.Equal(seen.Shape, found.Shape, width * 10);
        Assert.Equal(seen.Scale, found.Scale, width * seen.Scale);
        Assert.Equal(seen.ShapeSe, found.ShapeSe, 1e-3 * seen.ShapeSe);
        Assert.Equal(seen.QuantileInterval(0.1).Low!.Value, found.QuantileInterval(0.1).Low!.Value, 2 * width * seen.Scale);
    }

    [Fact]
    public void ProfileLimits_HoldTheTruthAsOftenAsTheySay_AndLivesAreNotTooLong()
    {
        // 95 % limits of 300 samples: 285 expected, standard deviation 3.8.
        var random = new Random(13);
        var (shape, b10, late) = (0, 0, 0);
        var b10Truth = Scale * Math.Pow(-Math.Log(0.9), 1 / Shape);
        for (var i = 0; i < 300; i++)
        {
            var lives = Draw(random, 60, 500);
            var fit = WeibullFit.Fit(lives);
            Assert.Equal(WeibullStatus.Fitted, fit.Status);
            shape += Holds(fit.ShapeInterval(), Shape);
            b10 += Holds(fit.QuantileInterval(0.1), b10Truth);
            late += Holds(WeibullFit.Fit([.. lives.Select(l => l with { FineUntil = null })]).QuantileInterval(0.1), b10Truth);
        }

        Assert.InRange(shape, 273, 297);
        Assert.InRange(b10, 273, 297);

        // Counted at the inspection, every 500 h, the same lives come out too long: more than five standard deviations fewer hold.
        Assert.True(late < 266, $"held {late} of 300");
    }

    [Theory]
    [InlineData(0, 100, true, 100)]
    [InlineData(50, 100, true, 40)]
    [InlineData(0, 100, true, -1)]
    [InlineData(0, 100, true, double.NaN)]
    [InlineData(0, 100, false, 50)]
    public void SeenFineWhenItCannotBe_IsRefused(double entry, double exit, bool hasFailed, double fineUntil)
    {
        Lifetime[] lives = [new(0, 10, true), new(entry, exit, hasFailed) { FineUntil = fineUntil }];
        Assert.Throws<ArgumentException>(() => WeibullFit.Fit(lives));
        Assert.Throws<ArgumentException>(() => KaplanMeier.Estimate(lives));
    }

    [Fact]
    public void TheCurve_TakesTheInspection()
    {
        var curve = KaplanMeier.Estimate([Found(0, 100), Found(100, 200), new(0, 200, false)]);
        Assert.Equal([100.0, 200.0], curve.Steps.Select(s => s.Age));
    }

    private static int Holds(EstimateWithLimits interval, double truth) => !(interval.Low > truth) && !(interval.High < truth) ? 1 : 0;

    private static Lifetime Found(double fine, double found) => new(0, found, true) { FineUntil = fine };

    private static List<Lifetime> Draw(Random random, int count, double every)
    {
        var lives = new List<Lifetime>();
        while (lives.Count < count)
        {
            // Some enter late, some stop being watched; half of the failures wait for the next inspection after the entry.
            var life = Weibull.Sample(random, Shape, Scale);
            var entry = random.Next(3) == 0 ? random.NextDouble() * 1000 : 0;
            var until = entry + (random.Next(2) == 0 ? 1e9 : random.NextDouble() * 3000);
            if (life <= entry)
            {
                continue;
            }

            var inspections = every > 0 && random.Next(2) == 0 ? Math.Floor((life - entry) / every) : double.NaN;
            lives.Add(life > until ? new Lifetime(entry, until, false)
                : double.IsNaN(inspections) ? new Lifetime(entry, life, true)
                : new Lifetime(entry, entry + ((inspections + 1) * every), true) { FineUntil = entry + (inspections * every) });
        }

        return lives;
    }
}
