using MathNet.Numerics.Distributions;
using Vanehour.Models.Expectations;

namespace Vanehour.Models.Tests.Expectations;

public sealed class ConformalQuantileTests
{
    [Theory]
    [InlineData(19, 0.95, 19)]
    [InlineData(20, 0.95, 20)]
    [InlineData(39, 0.95, 38)]
    [InlineData(9, 0.8, 8)]
    [InlineData(10, 0.8, 9)]
    public void Of_TakesTheRankOfTheFormula(int n, double level, int rank) =>
        Assert.Equal(rank, ConformalQuantile.Of([.. Enumerable.Range(1, n).Select(i => (double)i).Reverse()], level));

    [Fact]
    public void Of_TooFewScores_IsNull()
    {
        Assert.Null(ConformalQuantile.Of([.. Enumerable.Range(1, 18).Select(i => (double)i)], 0.95));
        Assert.Null(ConformalQuantile.Of([], 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => ConformalQuantile.Of([1.0], 1));
    }

    /// <summary>
    /// Vovk and others 2005, Lei and others 2018: the chance to be inside is ceil((n + 1) level)/(n + 1) whatever the distribution. Each trial has scores
    /// and a new value of its own, so that the count is binomial; the bounds are those of one in ten thousand.
    /// </summary>
    [Theory]
    [InlineData(0.9, 49, false)]
    [InlineData(0.95, 99, true)]
    public void Of_CoversAtItsLevel_WithinBinomialBounds(double level, int n, bool heavyTails)
    {
        const int trials = 20_000;
        var random = new Random(5);
        var inside = 0;
        for (var t = 0; t < trials; t++)
        {
            var half = ConformalQuantile.Of([.. Enumerable.Range(0, n).Select(_ => Score())], level)!.Value;
            inside += Score() <= half ? 1 : 0;
        }

        var chance = Math.Ceiling((n + 1) * level - 1e-9) / (n + 1);
        var bound = 3.9 * Math.Sqrt(trials * chance * (1 - chance));
        Assert.InRange(inside, (trials * chance) - bound, (trials * chance) + bound);

        double Score() => Math.Abs(heavyTails ? Math.Pow(random.NextDouble(), -1.0) - 1 : Normal.Sample(random, 0, 1));
    }
}
