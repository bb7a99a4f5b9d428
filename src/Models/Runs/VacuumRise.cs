using Vanehour.Fleet;
using Vanehour.Fleet.Units;

namespace Vanehour.Models.Runs;

/// <summary>The first rise of vacuum from near atmosphere in a run, up to where it levelled, fell or was left.</summary>
/// <param name="TimesS">Instants in s since the run's start.</param>
/// <param name="VacuumKPa">Readings, spikes taken out, kPa.</param>
/// <param name="PlateauKPa">Where it ended: the median of the readings within the end margin of the highest, kPa.</param>
/// <param name="LevelS">How long those readings last, s.</param>
/// <param name="LevelReadings">How many they are.</param>
/// <param name="LargestFallKPa">The largest fall below the highest reading before, on the way up, kPa.</param>
/// <param name="WatchTimeS">Seconds from 5 to 12 inHg by interpolation between readings, or null.</param>
internal sealed record VacuumRise(
    double[] TimesS, double[] VacuumKPa, double PlateauKPa, double LevelS, int LevelReadings, double LargestFallKPa, double? WatchTimeS)
{
    // A rise starts below this, kPa, and must reach twice as much to count. Sparse readings may not catch it lower.
    private const double NearAtmosphereKPa = 10;

    // Nothing more is learned from a level of a minute; the job may start then.
    private const double LongestLevelS = 60;

    // A level is still rising while it gains this much, kPa.
    private const double StillRisingKPa = 0.5;

    // The tank was vented or the valve turned.
    private const double FallKPa = 3;
    private const double FallShare = 0.08;

    private static readonly double WatchFromKPa = Unit.InchOfMercury.ConvertTo(Unit.Kilopascal, 5);
    private static readonly double WatchToKPa = Unit.InchOfMercury.ConvertTo(Unit.Kilopascal, 12);

    public static VacuumRise? First(RunTrace trace)
    {
        var (t, v) = Readings(trace);
        var smooth = MedianOfThree(v);
        var (begin, up) = Begin(smooth);
        if (up < 0)
        {
            return null;
        }

        var end = End(t, smooth, up);
        var highest = smooth.AsSpan(begin, end - begin);
        var peak = highest[0];
        foreach (var value in highest)
        {
            peak = Math.Max(peak, value);
        }

        var band = peak - PumpDownFitter.EndMarginKPa(peak);
        var onset = begin;
        while (smooth[onset] < band)
        {
            onset++;
        }

        var last = end - 1;
        while (smooth[last] < band)
        {
            last--;
        }

        var level = v[onset..(last + 1)];
        Array.Sort(level);
        return new VacuumRise(
            t[begin..(last + 1)],
            v[begin..(last + 1)],
            level[level.Length / 2],
            t[last] - t[onset],
            level.Length,
            LargestFall(smooth.AsSpan(begin, onset - begin)),
            WatchTime(t.AsSpan(begin, last + 1 - begin), smooth.AsSpan(begin, last + 1 - begin)));
    }

    private static (double[] T, double[] V) Readings(RunTrace trace)
    {
        var all = trace[Signal.Vacuum];
        var times = trace.TimesMs;
        var n = 0;
        foreach (var value in all)
        {
            n += double.IsNaN(value) ? 0 : 1;
        }

        var t = new double[n];
        var v = new double[n];
        n = 0;
        for (var i = 0; i < all.Length; i++)
        {
            if (!double.IsNaN(all[i]))
            {
                t[n] = (times[i] - trace.StartMs) / 1000.0;
                v[n++] = all[i];
            }
        }

        return (t, v);
    }

    private static double[] MedianOfThree(double[] v)
    {
        var smooth = (double[])v.Clone();
        for (var i = 1; i < v.Length - 1; i++)
        {
            smooth[i] = Math.Max(Math.Min(v[i - 1], v[i]), Math.Min(Math.Max(v[i - 1], v[i]), v[i + 1]));
        }

        return smooth;
    }

    /// <summary>The last reading near atmosphere before the vacuum first reaches twice that, and the reading that does.</summary>
    private static (int Begin, int Up) Begin(double[] smooth)
    {
        var begin = -1;
        for (var i = 0; i < smooth.Length; i++)
        {
            if (smooth[i] < NearAtmosphereKPa)
            {
                begin = i;
            }
            else if (begin >= 0 && smooth[i] >= 2 * NearAtmosphereKPa)
            {
                // A few readings earlier, for the fit to find its own start.
                return (Math.Max(begin - 3, 0), i);
            }
        }

        return (-1, -1);
    }

    /// <summary>The reading after the last one that belongs to the rise and its level.</summary>
    private static int End(double[] t, double[] smooth, int up)
    {
        var (peak, gained, gainedS) = (smooth[up], smooth[up], t[up]);
        for (var i = up + 1; i < smooth.Length; i++)
        {
            if (smooth[i] < peak - Math.Max(FallKPa, FallShare * peak)
                || t[i] - gainedS > LongestLevelS
                || t[i] - t[i - 1] > RunRules.SilenceMs / 1000.0)
            {
                return i;
            }

            peak = Math.Max(peak, smooth[i]);
            if (peak > gained + StillRisingKPa)
            {
                (gained, gainedS) = (peak, t[i]);
            }
        }

        return smooth.Length;
    }

    private static double LargestFall(ReadOnlySpan<double> smooth)
    {
        var (peak, fall) = (double.NegativeInfinity, 0.0);
        foreach (var value in smooth)
        {
            peak = Math.Max(peak, value);
            fall = Math.Max(fall, peak - value);
        }

        return fall;
    }

    private static double? WatchTime(ReadOnlySpan<double> t, ReadOnlySpan<double> smooth) =>
        Crossing(t, smooth, WatchFromKPa) is { } from && Crossing(t, smooth, WatchToKPa) is { } to && to > from ? to - from : null;

    private static double? Crossing(ReadOnlySpan<double> t, ReadOnlySpan<double> smooth, double level)
    {
        for (var i = 1; i < smooth.Length; i++)
        {
            if (smooth[i - 1] < level && smooth[i] >= level)
            {
                return t[i - 1] + ((t[i] - t[i - 1]) * (level - smooth[i - 1]) / (smooth[i] - smooth[i - 1]));
            }
        }

        return null;
    }
}
