using MathNet.Numerics.Distributions;
using Vanehour.Models.Indicators;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.Indicators;

public sealed class ShiftTrackerTests(ITestOutputHelper output)
{
    private static readonly DateTimeOffset Begin = new(2026, 1, 5, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Limits low enough to be passed often: signals in many steady runs against the stated run length, each signal starting over.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.4)]
    public void InControlRuns_MatchASimulation(double rho)
    {
        var options = new ShiftOptions { LimitSd = 3, CusumLimitSd = 9, RunCapSd = 20 };
        var stated = options.InControlRuns();
        const int runs = 400_000;
        var signals = Signals(options, runs, rho, 0, 3);
        output.WriteLine($"stated {stated:F0}, simulated {(double)runs / signals:F0} ({signals} signals)");

        // A lower bound, as often both signal at once; correlation is allowed for by its long-run factor, which is on the careful side too.
        var simulated = (double)runs / signals;
        Assert.InRange(simulated, stated * 0.92, rho == 0 ? stated * 2 : stated * 4);
    }

    [Fact]
    public void InControlRuns_OfTheDefaults_AreHundredsOfThousands_AndHold()
    {
        var options = new ShiftOptions();
        var stated = options.InControlRuns();
        const int runs = 1_000_000;
        var signals = Signals(options, runs, 0, 0, 7);
        output.WriteLine($"EWMA {RunLength.OfEwma(options.Lambda, options.LimitSd):F0}, CUSUM {RunLength.OfCusum(options.CusumAllowanceSd, options.CusumLimitSd):F0}, both {stated:F0}; {signals} signals in {runs}");
        Assert.InRange(RunLength.OfCusum(options.CusumAllowanceSd, options.CusumLimitSd), 350_000, 500_000);
        Assert.True(stated > 100_000);

        // Rare and far apart, so a Poisson count: above this with a chance below one in ten thousand.
        Assert.True(signals <= Poisson(runs / stated, 0.9999), $"{signals}");
    }

    [Theory]
    [InlineData(12, 22)]
    [InlineData(4.5, 400)]
    [InlineData(50, 5000)]
    public void InControlRuns_OfLimitsNeverPassed_StayFinite(double limit, double cusumLimit) =>
        Assert.InRange(new ShiftOptions { LimitSd = limit, CusumLimitSd = cusumLimit }.InControlRuns(), 200_000, 1e12);

    [Fact]
    public void AnErrorOfTheLevel_DoesNotAddUp()
    {
        // 200 pumps of 1000 runs, each level wrong by its own standard error's worth.
        var random = new Random(11);
        var signals = Enumerable.Range(0, 200).Sum(i => Signals(new ShiftOptions(), 1000, 0, Normal.Sample(random, 0, 0.16), 100 + i, 0.16));
        output.WriteLine($"{signals} signals in 200 000 runs");
        Assert.True(signals <= Poisson(200_000 / new ShiftOptions().InControlRuns(), 0.9999), $"{signals}");
    }

    [Fact]
    public void ASlowShift_IsFoundSoonerThanByTheAverageAlone()
    {
        // Half a standard deviation, for which the average's limit was not made.
        var delays = Enumerable.Range(0, 40).Select(i => (Both: Delay(new ShiftOptions(), i), Average: Delay(new ShiftOptions { CusumLimitSd = 1e6 }, i))).ToList();
        output.WriteLine($"both {delays.Average(d => d.Both):F0}, average alone {delays.Average(d => d.Average):F0} runs or more");

        // The run length's own word on it is 85; a sample of 40 leaves it a few open.
        Assert.Equal(RunLength.OfCusumSide(0.25, 22, 0.5), delays.Average(d => d.Both), 12.0);
        Assert.True(delays.Average(d => d.Average) > 2 * delays.Average(d => d.Both));
    }

    private static int Delay(ShiftOptions options, int seed)
    {
        var states = ShiftTracker.Track([.. Runs(3000, 0, 0.5, seed, 0)], 0, _ => 0.01, options);
        var first = states.ToList().FindIndex(s => s.Strength >= 1);
        return first < 0 ? 3000 : first + 1;
    }

    private static int Signals(ShiftOptions options, int runs, double rho, double mean, int seed, double offsetSd = 0)
    {
        var all = Runs(runs, rho, mean, seed, offsetSd).ToList();
        var signals = 0;
        var from = 0;
        while (from < all.Count)
        {
            // In pieces, so that starting over does not cost a pass over all that is left.
            var piece = all.GetRange(from, Math.Min(4000, all.Count - from));
            var states = ShiftTracker.Track(piece, rho, _ => 1e-9, options);
            var at = states.ToList().FindIndex(s => Sure(s) >= 1);
            signals += at >= 0 ? 1 : 0;
            from += at >= 0 ? at + 1 : piece.Count;
        }

        return signals;
    }

    // Without what matters, which is another question.
    private static double Sure(ShiftState s) => Math.Max(Math.Abs(s.Average) / s.Limit, Math.Max(s.CusumHigh, s.CusumLow));

    private static IEnumerable<JudgedRun> Runs(int n, double rho, double mean, int seed, double offsetSd)
    {
        var random = new Random(seed);
        var x = 0.0;
        for (var i = 0; i < n; i++)
        {
            x = (rho * x) + (Math.Sqrt(1 - (rho * rho)) * Normal.Sample(random, 0, 1));
            yield return new JudgedRun(Begin.AddHours(i), Begin.AddHours(i + 0.5), x + mean, 0, 1, offsetSd);
        }
    }

    private static double Poisson(double mean, double chance)
    {
        var k = 0;
        while (new Poisson(mean).CumulativeDistribution(k) < chance)
        {
            k++;
        }

        return k;
    }
}
