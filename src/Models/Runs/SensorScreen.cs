using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>Finds values that a sensor can say and a pump can't do.</summary>
internal static class SensorScreen
{
    private const int FewestConstantReadings = 60;
    private const long ConstantVacuumMs = 30 * 60_000;
    private const long ConstantTemperatureMs = 30 * 60_000;

    // At atmosphere a sensor that rounds may well say one value for hours.
    private const double ConstantVacuumAboveKPa = 5;

    // A tank can't be below a perfect vacuum; this much is the gauge's own error.
    private const double GaugeErrorKPa = 2;

    /// <summary>
    /// Takes out single readings that stand out from both neighbours, which agree with each other. The jumps are invented: several times what pump and tank
    /// do between two readings, and what sensors' noise does.
    /// </summary>
    /// <returns>How many were taken out.</returns>
    public static int RemoveSpikes(RunTrace trace, double ambientKPa)
    {
        var removed = 0;
        var vacuum = trace[Signal.Vacuum];
        for (var i = 0; i < vacuum.Length; i++)
        {
            if (vacuum[i] > ambientKPa + GaugeErrorKPa)
            {
                vacuum[i] = double.NaN;
                removed++;
            }
        }

        // Air let in empties the gauge at once and the pump takes seconds to bring it back: a dip is believed unless both neighbours are very near.
        removed += Remove(trace, Signal.Vacuum, 15, 15_000, 5_000);
        removed += Remove(trace, Signal.Pressure, 30, 15_000, 5_000);
        removed += Remove(trace, Signal.PumpTemp, 15, 120_000, 120_000);
        removed += Remove(trace, Signal.AmbientTemp, 15, 300_000, 300_000);
        removed += Remove(trace, Signal.PumpSpeed, 400, 5_000, 5_000);
        removed += Remove(trace, Signal.Baro, 3, 600_000, 600_000);
        removed += Remove(trace, Signal.OilUsed, 1, 300_000, 300_000);
        return removed + Remove(trace, Signal.OilLevel, 3, 60_000, 60_000);
    }

    /// <summary>Whether vacuum or pump temperature gave one exact value for half an hour in which it should vary.</summary>
    public static bool FindsStuck(RunTrace trace) =>
        LongestConstant(trace, Signal.Vacuum, ConstantVacuumAboveKPa) >= ConstantVacuumMs
        || (trace.EndMs - trace.StartMs >= ConstantTemperatureMs && IsConstantThroughout(trace, Signal.PumpTemp));

    private static int Remove(RunTrace trace, Signal signal, double jump, long upWithinMs, long downWithinMs)
    {
        var v = trace[signal];
        var t = trace.TimesMs;
        var removed = 0;
        var (before, middle) = (-1, -1);
        for (var i = 0; i < v.Length; i++)
        {
            if (double.IsNaN(v[i]))
            {
                continue;
            }

            if (before >= 0)
            {
                var up = Math.Min(v[middle] - v[before], v[middle] - v[i]);
                var down = Math.Min(v[before] - v[middle], v[i] - v[middle]);
                var withinMs = up > 0 ? upWithinMs : downWithinMs;
                if (Math.Max(up, down) > jump
                    && Math.Abs(v[i] - v[before]) <= jump / 2
                    && t[middle] - t[before] <= withinMs
                    && t[i] - t[middle] <= withinMs)
                {
                    v[middle] = double.NaN;
                    removed++;
                    middle = before;
                }
            }

            (before, middle) = (middle, i);
        }

        return removed;
    }

    private static long LongestConstant(RunTrace trace, Signal signal, double above)
    {
        var v = trace[signal];
        var t = trace.TimesMs;
        long longest = 0;
        var (value, sinceMs, readings) = (double.NaN, 0L, 0);
        for (var i = 0; i < v.Length; i++)
        {
            if (double.IsNaN(v[i]))
            {
                continue;
            }

            if (v[i] != value)
            {
                (value, sinceMs, readings) = (v[i], t[i], 0);
            }

            readings++;
            if (readings >= FewestConstantReadings && value > above)
            {
                longest = Math.Max(longest, t[i] - sinceMs);
            }
        }

        return longest;
    }

    private static bool IsConstantThroughout(RunTrace trace, Signal signal)
    {
        var (value, readings) = (double.NaN, 0);
        foreach (var v in trace[signal])
        {
            if (double.IsNaN(v))
            {
                continue;
            }

            if (readings++ > 0 && v != value)
            {
                return false;
            }

            value = v;
        }

        return readings >= FewestConstantReadings / 3;
    }
}
