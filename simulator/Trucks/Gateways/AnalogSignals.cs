using Vanehour.Fleet;

namespace Vanehour.Simulator.Gateways;

/// <summary>The signals that come from an analog input, with the ends of their sensors' ranges (invented, inside what a payload may carry).</summary>
internal static class AnalogSignals
{
    /// <summary>Whether a signal is analog.</summary>
    public static bool Has(Signal signal) => Range(signal) is not null;

    /// <summary>The end of the sensor's range that lies farther from a value, in the canonical unit.</summary>
    public static double FarEnd(Signal signal, double value)
    {
        var (low, high) = Range(signal)!.Value;
        return value - low > high - value ? low : high;
    }

    private static (double Low, double High)? Range(Signal signal) => signal switch
    {
        Signal.Vacuum => (0, 100),
        Signal.Pressure => (0, 400),
        Signal.PumpTemp => (-40, 250),
        Signal.AmbientTemp => (-40, 120),
        Signal.PumpSpeed => (0, 4000),
        Signal.OilLevel => (0, 60),
        Signal.Baro => (60, 110),
        _ => null,
    };
}
