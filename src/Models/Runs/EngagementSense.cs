using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>
/// Reads the power take-off from samples. The signal itself comes first; where it has not been heard for ten minutes, the pump's speed decides, and without
/// a speed the meter's advance. What it says depends on the last ten minutes of samples alone.
/// </summary>
internal sealed class EngagementSense(RunContext context)
{
    private double pto = double.NaN;
    private long ptoMs;
    private double speed = double.NaN;
    private long speedMs;
    private double meter = double.NaN;
    private long meterMs;
    private long advancedMs = long.MinValue / 2;

    /// <summary>The instant of the meter reading before the latest one; where <see cref="Engagement.OnByMeter"/> starts.</summary>
    public long PreviousMeterMs { get; private set; }

    public Engagement Hear(in Sample sample)
    {
        var at = sample.UnixMs;
        var byMeter = HearMeter(sample.Values.Raw(Signal.PtoHours), at);
        Keep(sample.Values.Raw(Signal.Pto), at, ref pto, ref ptoMs);
        Keep(sample.Values.Raw(Signal.PumpSpeed), at, ref speed, ref speedMs);
        if (!double.IsNaN(pto) && at - ptoMs <= RunRules.EngagementHoldMs)
        {
            return pto >= 0.5 ? Engagement.On : Engagement.Off;
        }

        if (!double.IsNaN(speed) && at - speedMs <= RunRules.FastHoldMs && context.EngagedAboveRpm(at) is { } threshold)
        {
            return speed > threshold ? Engagement.OnBySpeed : Engagement.Off;
        }

        return byMeter;
    }

    private static void Keep(double value, long at, ref double held, ref long heldMs)
    {
        if (!double.IsNaN(value))
        {
            (held, heldMs) = (value, at);
        }
    }

    private Engagement HearMeter(double reading, long at)
    {
        if (double.IsNaN(reading))
        {
            return Engagement.Unknown;
        }

        var (before, beforeMs) = (meter, meterMs);
        (meter, meterMs, PreviousMeterMs) = (reading, at, beforeMs);
        if (double.IsNaN(before) || at - beforeMs > RunRules.EngagementHoldMs)
        {
            return Engagement.Unknown;
        }

        var advance = reading - before;
        var elapsed = (at - beforeMs) / 3_600_000.0;
        if (advance > 1e-9 && advance <= elapsed + RunRules.CoarseMeterH + RunRules.MeterSlackH)
        {
            advancedMs = at;
            return Engagement.OnByMeter;
        }

        // A coarse meter ticks every six minutes: standing still for less says nothing.
        return advance < 0 || at - advancedMs <= RunRules.EngagementHoldMs ? Engagement.Unknown : Engagement.Off;
    }
}
