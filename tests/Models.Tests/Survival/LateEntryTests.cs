using MathNet.Numerics.Distributions;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Tests.Survival;

/// <summary>Late entry against lives drawn from a known distribution.</summary>
public sealed class LateEntryTests
{
    private const double Shape = 2.2;
    private const double Scale = 1500;

    [Fact]
    public void LivesThatEndedBeforeTheirRecordsBegan_BiasAFitThatDoesNotKnow()
    {
        var random = new Random(7);
        var lives = Draw(random, 4000);
        var fit = WeibullFit.Fit(lives);
        Assert.Equal(Shape, fit.Shape, 3 * fit.ShapeSe);
        Assert.Equal(Scale, fit.Scale, 3 * fit.ScaleSe);
        var blind = WeibullFit.Fit([.. lives.Select(l => l with { Entry = 0 })]);
        Assert.True(blind.Scale > Scale + (5 * blind.ScaleSe));
    }

    [Fact]
    public void ProfileLimits_HoldTheTruthAsOftenAsTheySay()
    {
        // 95 % limits of 400 samples: 380 expected, standard deviation 4.4; small samples and late entry make it hold a little less or more.
        var random = new Random(11);
        var (shape, b10) = (0, 0);
        var b10Truth = Scale * Math.Pow(-Math.Log(0.9), 1 / Shape);
        for (var i = 0; i < 400; i++)
        {
            var fit = WeibullFit.Fit(Draw(random, 60));
            Assert.Equal(WeibullStatus.Fitted, fit.Status);
            shape += Holds(fit.ShapeInterval(), Shape);
            b10 += Holds(fit.QuantileInterval(0.1), b10Truth);
        }

        Assert.InRange(shape, 366, 394);
        Assert.InRange(b10, 366, 394);
    }

    [Fact]
    public void LimitsOfTheScale_AreThoseOfTheQuantileThatItIs()
    {
        var fit = WeibullFit.Fit(Draw(new Random(3), 80));
        var scale = fit.QuantileInterval(1 - Math.Exp(-1));
        Assert.Equal(fit.Scale, scale.Mid!.Value, 1e-9 * fit.Scale);
        Assert.InRange(fit.Scale - scale.Low!.Value, 1.5 * fit.ScaleSe, 2.5 * fit.ScaleSe);
    }

    private static int Holds(EstimateWithLimits interval, double truth) => !(interval.Low > truth) && !(interval.High < truth) ? 1 : 0;

    private static List<Lifetime> Draw(Random random, int count)
    {
        var lives = new List<Lifetime>();
        while (lives.Count < count)
        {
            // Half of the units come under observation at some age, and half of all stop being watched at another.
            var life = Weibull.Sample(random, Shape, Scale);
            var entry = random.Next(2) == 0 ? 0 : random.NextDouble() * 1200;
            var until = entry + (random.Next(2) == 0 ? 1e9 : random.NextDouble() * 2500);
            if (life > entry)
            {
                lives.Add(new Lifetime(entry, Math.Min(life, until), life <= until));
            }
        }

        return lives;
    }
}
