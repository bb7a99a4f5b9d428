using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>Time-weighted features of a run. A value holds until the next of its signal, for as long as its hold lasts; time without a value does not count.</summary>
internal sealed class RunFeatures
{
    private double vacuumMs, vacuumSum, aboveLimitMs;
    private double tempMs, tempSum, ambientMs, ambientSum, baroMs, baroSum;
    private double warmRiseMs, warmRiseSum;
    private double speedMs, speedSum, loadedSpeedMs, loadedSpeedSum, outsideMs;

    public double CoveredMs { get; private set; }

    public double? VacuumMean => Mean(vacuumSum, vacuumMs);

    /// <summary>Null without a vacuum or without a limit.</summary>
    public double? MinutesAboveLimit { get; private set; }

    public double? TempMean => Mean(tempSum, tempMs);

    public double? AmbientMean => Mean(ambientSum, ambientMs);

    public double? BaroMean => Mean(baroSum, baroMs);

    /// <summary>Over the part later than ten minutes into the run; null where that has less than three minutes.</summary>
    public double? TempRise { get; private set; }

    /// <summary>Under load, or over the whole run where the pump was never loaded.</summary>
    public double? SpeedMean => Mean(loadedSpeedSum, loadedSpeedMs) ?? Mean(speedSum, speedMs);

    /// <summary>Share of the time under load outside the pump model's range; null without speed under load or without a pump model.</summary>
    public double? OutsideShare { get; private set; }

    public static RunFeatures Of(RunTrace trace, PumpModel? model)
    {
        var features = new RunFeatures();
        Span<double> value = stackalloc double[SignalInfo.Count];
        Span<long> untilMs = stackalloc long[SignalInfo.Count];
        for (var s = 0; s < SignalInfo.Count; s++)
        {
            value[s] = trace.Initial((Signal)s);
            untilMs[s] = trace.InitialMs((Signal)s) + HeldValues.HoldMs((Signal)s);
        }

        var times = trace.TimesMs;
        var from = trace.StartMs;
        for (var i = 0; i <= times.Length; i++)
        {
            var to = i < times.Length ? times[i] : trace.EndMs;
            if (to > from)
            {
                features.Add(from, to, trace.StartMs, value, untilMs, model);
            }

            if (i == times.Length)
            {
                break;
            }

            for (var s = 0; s < SignalInfo.Count; s++)
            {
                var v = trace[(Signal)s][i];
                if (!double.IsNaN(v))
                {
                    value[s] = v;
                    untilMs[s] = to + HeldValues.HoldMs((Signal)s);
                }
            }

            from = to;
        }

        features.Conclude(trace, model);
        return features;
    }

    public static double? Max(ReadOnlySpan<double> values)
    {
        var max = double.NegativeInfinity;
        foreach (var v in values)
        {
            // Comparisons with NaN are false.
            if (v > max)
            {
                max = v;
            }
        }

        return double.IsInfinity(max) ? null : max;
    }

    private static double? Mean(double sum, double ms) => ms > 0 ? sum / ms : null;

    private static double Held(Signal signal, long from, long to, ReadOnlySpan<double> value, ReadOnlySpan<long> untilMs) =>
        double.IsNaN(value[(int)signal]) ? 0 : Math.Clamp(untilMs[(int)signal] - from, 0, to - from);

    private void Add(long from, long to, long startMs, ReadOnlySpan<double> value, ReadOnlySpan<long> untilMs, PumpModel? model)
    {
        CoveredMs += Math.Min(to - from, RunRules.SilenceMs);
        var vacuum = value[(int)Signal.Vacuum];
        var vacuumHeld = Held(Signal.Vacuum, from, to, value, untilMs);
        Take(vacuum, vacuumHeld, ref vacuumSum, ref vacuumMs);
        if (vacuumHeld > 0 && model is not null && vacuum > model.MaxVacuum.Kilopascals)
        {
            aboveLimitMs += vacuumHeld;
        }

        var tempHeld = Held(Signal.PumpTemp, from, to, value, untilMs);
        var ambientHeld = Held(Signal.AmbientTemp, from, to, value, untilMs);
        Take(value[(int)Signal.PumpTemp], tempHeld, ref tempSum, ref tempMs);
        Take(value[(int)Signal.AmbientTemp], ambientHeld, ref ambientSum, ref ambientMs);
        Take(value[(int)Signal.Baro], Held(Signal.Baro, from, to, value, untilMs), ref baroSum, ref baroMs);
        var both = Math.Min(tempHeld, ambientHeld);
        if (both > 0)
        {
            var rise = value[(int)Signal.PumpTemp] - value[(int)Signal.AmbientTemp];
            var warm = Math.Clamp(from + both - Math.Max(from, startMs + RunRules.WarmUpMs), 0, both);
            Take(rise, warm, ref warmRiseSum, ref warmRiseMs);
        }

        AddSpeed(from, to, value, untilMs, vacuumHeld, model);
    }

    private void AddSpeed(long from, long to, ReadOnlySpan<double> value, ReadOnlySpan<long> untilMs, double vacuumHeld, PumpModel? model)
    {
        var speed = value[(int)Signal.PumpSpeed];
        var speedHeld = Held(Signal.PumpSpeed, from, to, value, untilMs);
        if (!(speedHeld > 0))
        {
            return;
        }

        Take(speed, speedHeld, ref speedSum, ref speedMs);
        var loadedMs = Math.Max(
            value[(int)Signal.Vacuum] > RunRules.LoadKPa ? vacuumHeld : 0,
            value[(int)Signal.Pressure] > RunRules.LoadKPa ? Held(Signal.Pressure, from, to, value, untilMs) : 0);
        loadedMs = Math.Min(loadedMs, speedHeld);
        Take(speed, loadedMs, ref loadedSpeedSum, ref loadedSpeedMs);
        if (model is not null && (speed < model.MinSpeed.Rpm || speed > model.MaxSpeed.Rpm))
        {
            outsideMs += loadedMs;
        }
    }

    private void Conclude(RunTrace trace, PumpModel? model)
    {
        MinutesAboveLimit = model is not null && vacuumMs > 0 ? aboveLimitMs / 60_000 : null;
        OutsideShare = model is not null && loadedSpeedMs > 0 ? outsideMs / loadedSpeedMs : null;
        TempRise = warmRiseMs >= RunRules.ShortestWarmMs ? Mean(warmRiseSum, warmRiseMs) : null;
    }

    private static void Take(double value, double ms, ref double sum, ref double totalMs)
    {
        if (ms > 0)
        {
            sum += value * ms;
            totalMs += ms;
        }
    }
}
