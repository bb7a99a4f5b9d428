using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>Eighty lives with six forecasts each: a wear curve that says its range, a learner beside it, and the truth.</summary>
public sealed class WearBlendTests(ITestOutputHelper output)
{
    private const double CapH = 800;

    // 10 % quantile of a normal.
    private const double Tail = 1.2816;

    [Fact]
    public void LearnerThatKnows_IsBelieved_AndTheRangeIsWhatBothMissedBy()
    {
        // The curve says half of what is left; the learner errs by 20 h.
        var blend = WearBlend.Learn(Past(1, p => p.TrueH / 2, 100, 20), CapH, 0.8);
        Assert.True(blend.Weight > 0.9, $"{blend.Weight}");
        var said = blend.Of(100, 200, 300, 400)!.Value;
        output.WriteLine($"{said}");
        Assert.InRange(said.P50, 380, 420);
        Assert.InRange(said.P90 - said.P10, 2 * Tail * 15, 2 * Tail * 35);
        Assert.Equal((blend.Weight, 80), (said.Share.Weight, said.Share.Lives));
    }

    [Fact]
    public void LearnerThatKnowsNothing_IsLeftOut_AndTheRangeIsWhatTheCurveMissedBy()
    {
        // The curve errs by 60 h and says 30.
        var blend = WearBlend.Learn(Past(2, p => p.TrueH + (60 * p.Z), 30, 1000), CapH, 0.8);
        Assert.InRange(blend.Weight, 0, 0.05);
        var said = blend.Of(300 - (Tail * 30), 300, 300 + (Tail * 30), null)!.Value;
        output.WriteLine($"{said}");
        Assert.InRange(said.P50, 270, 330);
        Assert.InRange(said.P90 - said.P10, 2 * Tail * 45, 2 * Tail * 85);
        Assert.Equal(0, said.Share.Weight);
    }

    [Fact]
    public void NearTheCap_TheCurveIsLeftAlone_AndNothingJumps()
    {
        var blend = WearBlend.Learn(Past(3, p => p.TrueH + (60 * p.Z), 60, 20), CapH, 0.8);
        Assert.Null(blend.Of(700, 800, 900, 500));
        Assert.Null(blend.Of(0, 0, 0, 500));
        Assert.Null(blend.Of(500, double.PositiveInfinity, double.PositiveInfinity, 500));
        for (var h = 200.0; h < 759; h++)
        {
            var (one, next) = (blend.Of(h - 80, h, h + 80, h + 30)!.Value, blend.Of(h - 79, h + 1, h + 81, h + 31)!.Value);
            Assert.True(one.P10 <= one.P50 && one.P50 <= one.P90);
            Assert.InRange(next.P50, one.P50 - 40, one.P50 + 40);
        }

        var last = blend.Of(759 - 80, 759, 759 + 80, 500)!.Value;
        Assert.Equal(759, last.P50, 5.0);
        Assert.Equal(160, last.P90 - last.P10, 2.0);
    }

    [Fact]
    public void LivesThatGoOn_CountAsLastingAtLeastAsLong()
    {
        // What is watched for some hours only: those that ended meanwhile are the short ones, and alone would call a curve late that is right.
        var random = new MersenneTwister(4);
        var all = Enumerable.Range(0, 400).Select(i =>
        {
            var (trueH, watchedH) = (300 + (60 * Normal.Sample(random, 0, 1)), 150 + (300 * random.NextDouble()));
            return new PastForecast($"L{i}", 500, 300 - (Tail * 60), 300, 300 + (Tail * 60), 300, Math.Min(trueH, watchedH), trueH <= watchedH);
        }).ToList();
        var ended = WearBlend.Learn([.. all.Where(p => p.HasEnded)], CapH, 0.8).Of(200, 300, 400, null)!.Value;
        var both = WearBlend.Learn(all, CapH, 0.8).Of(200, 300, 400, null)!.Value;
        output.WriteLine($"{ended} {both}");
        Assert.InRange(all.Count(p => p.HasEnded), 150, 250);
        Assert.InRange(ended.P50, 200, 285);

        // The curve is right, so 200, 300 and 400 stay; some three standard errors of quantiles of 400 values, half of them known.
        Assert.InRange(both.P10, 170, 230);
        Assert.InRange(both.P50, 285, 315);
        Assert.InRange(both.P90, 360, 440);
    }

    [Fact]
    public void TooFewLives_ChangeNothing()
    {
        Assert.Null(WearBlend.Learn([], CapH, 0.8).Of(200, 300, 400, 350));
        Assert.Null(WearBlend.Learn(Past(5, p => p.TrueH, 60, 20, lives: 8), CapH, 0.8).Of(200, 300, 400, 350));
    }

    [Fact]
    public void QuantileMap_CarriesQuantilesToQuantiles()
    {
        var map = new QuantileMap((10, 20), (30, 30), (50, 80));
        Assert.Equal([0, 10, 20, 25, 30, 55, 80, 160], new double[] { 0, 5, 10, 20, 30, 40, 50, 100 }.Select(map.Of));
        var none = new QuantileMap((0, 5), (0, 6), (10, 12));
        Assert.Equal(12, none.Of(10));
        Assert.Equal(24, none.Of(20));
        Assert.Equal(9, none.Of(5));
        Assert.Equal(7, new QuantileMap((0, 0), (0, 0), (0, 0)).Of(7));
    }

    private static List<PastForecast> Past(int seed, Func<(double TrueH, double Z), double> curve, double saysSd, double learnedSd, int lives = 80)
    {
        var random = new MersenneTwister(seed);
        return
        [
            .. Enumerable.Range(0, lives).SelectMany(life => Enumerable.Range(1, 6).Select(i =>
            {
                var trueH = (i * 100) - 50 + (30 * random.NextDouble());
                var p50 = curve((trueH, Normal.Sample(random, 0, 1)));
                return new PastForecast(
                    $"L{life}", 1000 - trueH, p50 - (Tail * saysSd), p50, p50 + (Tail * saysSd), Math.Clamp(trueH + (learnedSd * Normal.Sample(random, 0, 1)), 0, CapH), trueH, true);
            })),
        ];
    }
}
