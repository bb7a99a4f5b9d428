using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>The last value of each signal and when it was said. A value is used only while its hold lasts.</summary>
internal struct HeldValues
{
    private SignalValues values;
    private SignalTimes times;

    public static HeldValues Nothing => new() { values = SignalValues.Empty };

    public void Take(in Sample sample)
    {
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            var value = sample.Values[i];
            if (!double.IsNaN(value))
            {
                values[i] = value;
                times[i] = sample.UnixMs;
            }
        }
    }

    /// <summary>The value that holds at an instant, or NaN.</summary>
    public readonly double At(Signal signal, long atMs) => atMs - times[(int)signal] <= HoldMs(signal) ? values[(int)signal] : double.NaN;

    /// <summary>When the last value was said; meaningless without one.</summary>
    public readonly long TimeOf(Signal signal) => times[(int)signal];

    public static long HoldMs(Signal signal) => signal switch
    {
        Signal.Vacuum or Signal.Pressure or Signal.PumpSpeed => RunRules.FastHoldMs,
        Signal.PumpTemp or Signal.AmbientTemp => RunRules.TemperatureHoldMs,
        Signal.Baro or Signal.PtoHours or Signal.OilUsed => RunRules.SlowHoldMs,

        // A refill while the pump stands would be taken for oil used.
        Signal.OilLevel => -1,
        _ => RunRules.EngagementHoldMs,
    };

    [System.Runtime.CompilerServices.InlineArray(SignalInfo.Count)]
    private struct SignalTimes
    {
        private long first;
    }
}
