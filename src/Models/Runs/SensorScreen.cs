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

    // No drive turns a pump at twice its highest speed, and no relief valve lets a tank go to twice its highest pressure.
    private const double BeyondHighest = 2;

    // Neighbours that change in the meantime still agree when they differ by less than this share of what stands out.
    private const double AgreeShare = 0.25;

    // Vacuum and pressure are of one tank: both at once, in so many readings, and one of the two gauges stands still.
    private const int FewestContradictions = 3;

    /// <summary>
    /// Takes out single readings that stand out from both neighbours, which agree with each other, and those that no pump of this model can make. The jumps are invented: several times what pump and tank
    /// do between two readings, and what sensors' noise does.
    /// </summary>
    /// <returns>How many were taken out.</returns>
    public static int RemoveSpikes(RunTrace trace, double ambientKPa, PumpModel? model)
    {
        var removed = 0;
        removed += RemoveAbove(trace, Signal.Vacuum, ambientKPa + GaugeErrorKPa);
        removed += RemoveAbove(trace, Signal.PumpSpeed, BeyondHighest * (model?.MaxSpeed.Rpm ?? double.PositiveInfinity));
        removed += RemoveAbove(trace, Signal.Pressure, BeyondHighest * (model?.MaxPressure.Kilopascals ?? double.PositiveInfinity));

        // Air let in empties the gauge at once and the pump takes seconds to bring it back: a dip is believed unless both neighbours are very near. Nobody pulls a
        // tank down and vents it again between two readings of steady work.
        removed += Remove(trace, Signal.Vacuum, 15, 90_000, 5_000);
        removed += Remove(trace, Signal.Pressure, 30, 15_000, 5_000);

        // Iron takes minutes to warm by so much, however far apart the readings are while the vacuum rises.
        removed += RemoveAtEnds(trace, Signal.PumpTemp, 60, 600_000);
        removed += RemoveAtEnds(trace, Signal.AmbientTemp, 30, 600_000);
        removed += Remove(trace, Signal.PumpTemp, 60, 600_000, 600_000);
        removed += Remove(trace, Signal.PumpTemp, 15, 120_000, 120_000);
        removed += Remove(trace, Signal.AmbientTemp, 15, 300_000, 300_000);
        removed += Remove(trace, Signal.PumpSpeed, 400, 5_000, 5_000);
        removed += Remove(trace, Signal.Baro, 3, 600_000, 600_000);
        removed += Remove(trace, Signal.OilUsed, 1, 300_000, 300_000);
        return removed + Remove(trace, Signal.OilLevel, 3, 60_000, 60_000);
    }

    /// <summary>Whether vacuum or pump temperature gave one exact value for half an hour in which it should vary, or vacuum and pressure contradict each other.</summary>
    public static bool FindsStuck(RunTrace trace) =>
        Contradictions(trace) >= FewestContradictions
        || LongestConstant(trace, Signal.Vacuum, ConstantVacuumAboveKPa) >= ConstantVacuumMs
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
                    && Math.Abs(v[i] - v[before]) <= Math.Max(jump / 2, AgreeShare * Math.Max(up, down))
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

    private static int RemoveAbove(RunTrace trace, Signal signal, double highest)
    {
        var removed = 0;
        foreach (ref var value in trace[signal])
        {
            if (value > highest)
            {
                value = double.NaN;
                removed++;
            }
        }

        return removed;
    }

    /// <summary>The first and the last reading have one neighbour only: they stand out where that one agrees with the next.</summary>
    private static int RemoveAtEnds(RunTrace trace, Signal signal, double jump, long withinMs)
    {
        var v = trace[signal];
        var t = trace.TimesMs;
        var read = new List<int>();
        for (var i = 0; i < v.Length; i++)
        {
            if (!double.IsNaN(v[i]))
            {
                read.Add(i);
            }
        }

        if (read.Count < 4)
        {
            return 0;
        }

        var removed = 0;
        foreach (var (end, near, next) in new[] { (read[0], read[1], read[2]), (read[^1], read[^2], read[^3]) })
        {
            if (Math.Abs(v[end] - v[near]) > jump && Math.Abs(v[near] - v[next]) <= jump / 2 && Math.Abs(t[end] - t[near]) <= withinMs)
            {
                v[end] = double.NaN;
                removed++;
            }
        }

        return removed;
    }

    private static int Contradictions(RunTrace trace)
    {
        var vacuum = trace[Signal.Vacuum];
        var pressure = trace[Signal.Pressure];
        var count = 0;
        for (var i = 0; i < vacuum.Length; i++)
        {
            count += vacuum[i] > RunRules.LoadKPa && pressure[i] > RunRules.LoadKPa ? 1 : 0;
        }

        return count;
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
