using Vanehour.Fleet;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>The oil that a run took.</summary>
/// <param name="Litres">L, or null where neither counter nor level says; from a level it may come out a little below zero by noise.</param>
/// <param name="Refilled">A refill or reset was taken out.</param>
internal readonly record struct OilDraw(double? Litres, bool Refilled)
{
    // A counter that falls by more than this was reset, L; a smaller fall is rounding.
    private const double CounterNoiseL = 0.05;

    // No oil pump feeds this fast: a counter that rises faster by this much was reset or replaced.
    private const double CounterJumpL = 2;
    private const double CounterJumpLPerH = 50;

    // A level that rises by this much, L, and stays there was filled; sloshing comes back down.
    private const double RefillL = 0.4;
    private const int RefillReadings = 5;

    // Where the level sloshes, medians of five readings differ by chance: a step must exceed this many times the noise of a reading, four errors of the difference of two such medians.
    private const double RefillNoise = 3.2;
    private const int FewestLevelReadings = 10;

    /// <summary>From the counter where it was read twice, else from the level.</summary>
    public static OilDraw Of(RunTrace trace) => FromCounter(trace) ?? FromLevel(trace) ?? new OilDraw(null, false);

    private static OilDraw? FromCounter(RunTrace trace)
    {
        var v = trace[Signal.OilUsed];
        var t = trace.TimesMs;
        var (first, last, lastMs) = (trace.Initial(Signal.OilUsed), trace.Initial(Signal.OilUsed), trace.InitialMs(Signal.OilUsed));
        var (sum, readings, reset) = (0.0, double.IsNaN(first) ? 0 : 1, false);
        for (var i = 0; i <= v.Length; i++)
        {
            var value = i < v.Length ? v[i] : trace.Closing(Signal.OilUsed);
            var ms = i < v.Length ? t[i] : trace.EndMs;
            if (double.IsNaN(value))
            {
                continue;
            }

            if (readings == 0)
            {
                first = value;
            }
            else if (value < last - CounterNoiseL
                || (value - last > CounterJumpL && value - last > CounterJumpLPerH * (ms - lastMs) / 3_600_000.0))
            {
                sum += last - first;
                first = value;
                reset = true;
            }

            (last, lastMs) = (value, ms);
            readings++;
        }

        return readings >= 2 ? new OilDraw(sum + last - first, reset) : null;
    }

    /// <summary>The fall of a straight line through the readings between refills: the noise of single readings averages out.</summary>
    private static OilDraw? FromLevel(RunTrace trace)
    {
        var (levels, times) = Readings(trace);
        if (levels.Count < FewestLevelReadings)
        {
            return null;
        }

        var refillL = Math.Max(RefillL, RefillNoise * NoiseL(levels));
        var hours = (trace.EndMs - trace.StartMs) / 3_600_000.0;
        var (from, litres, covered, refilled) = (0, 0.0, 0.0, false);
        for (var i = 1; i <= levels.Count; i++)
        {
            if (i < levels.Count && !IsRefill(levels, from, i, refillL))
            {
                continue;
            }

            if (i - from >= RefillReadings)
            {
                var span = times[i - 1] - times[from];
                litres -= Slope(times, levels, from, i) * span;
                covered += span;
            }

            refilled |= i < levels.Count;
            from = i;
        }

        // The stretch between readings on the two sides of a refill, and the run's ends, draw as the rest does.
        return covered > 0 ? new OilDraw(litres * hours / covered, refilled) : null;
    }

    private static (List<double> Levels, List<double> Hours) Readings(RunTrace trace)
    {
        var v = trace[Signal.OilLevel];
        var t = trace.TimesMs;
        var levels = new List<double>();
        var hours = new List<double>();
        for (var i = 0; i < v.Length; i++)
        {
            if (!double.IsNaN(v[i]))
            {
                levels.Add(v[i]);
                hours.Add((t[i] - trace.StartMs) / 3_600_000.0);
            }
        }

        return (levels, hours);
    }

    /// <summary>Noise of a reading by the median difference of neighbours, L: a refill is one difference among many.</summary>
    private static double NoiseL(List<double> levels) =>
        Robust.MadToSd * Robust.Median(levels.Skip(1).Zip(levels, (later, earlier) => Math.Abs(later - earlier))) / Math.Sqrt(2);

    private static bool IsRefill(List<double> levels, int from, int at, double refillL)
    {
        if (at - from < RefillReadings || levels.Count - at < RefillReadings || levels[at] - levels[at - 1] < refillL / 2)
        {
            return false;
        }

        // Medians see a step some readings early: it is where the level jumps most.
        for (var later = at + 1; later < at + RefillReadings; later++)
        {
            if (levels[later] - levels[later - 1] > levels[at] - levels[at - 1])
            {
                return false;
            }
        }

        return Median(levels, at) - Median(levels, at - RefillReadings) > refillL;
    }

    private static double Median(List<double> levels, int from)
    {
        Span<double> some = stackalloc double[RefillReadings];
        for (var i = 0; i < RefillReadings; i++)
        {
            some[i] = levels[from + i];
        }

        some.Sort();
        return some[RefillReadings / 2];
    }

    private static double Slope(List<double> x, List<double> y, int from, int to)
    {
        double meanX = 0, meanY = 0, xx = 0, xy = 0;
        for (var i = from; i < to; i++)
        {
            meanX += x[i] / (to - from);
            meanY += y[i] / (to - from);
        }

        for (var i = from; i < to; i++)
        {
            xx += (x[i] - meanX) * (x[i] - meanX);
            xy += (x[i] - meanX) * (y[i] - meanY);
        }

        return xx > 0 ? xy / xx : 0;
    }
}
