using Vanehour.Fleet;

namespace Vanehour.Bench.Faults.Feed;

/// <summary>What a truck's sensors say at an instant: a function of the truck and the instant alone, so that a sample that was invented, damaged or swapped shows.</summary>
internal static class FeedValues
{
    /// <summary>Hundredths, 0 to 99.99 kPa.</summary>
    public static double VacuumKPa(int truck, long atS) => Mix(truck, atS, 1) % 10_000 / 100.0;

    /// <summary>Hundredths, 0 to 349.99 °C.</summary>
    public static double PumpTempC(int truck, long atS) => Mix(truck, atS, 2) % 35_000 / 100.0;

    /// <summary>Hundredths, 0 to 9 999.99 h.</summary>
    public static double PtoHoursH(int truck, long atS) => Mix(truck, atS, 3) % 1_000_000 / 100.0;

    /// <summary>Hundredths, 0 to 49.99 °C.</summary>
    public static double AmbientTempC(int truck, long atS) => Mix(truck, atS, 4) % 5_000 / 100.0;

    /// <summary>The value that a message of either kind carries for a signal; null where none does.</summary>
    public static double? Of(Signal signal, int truck, long atS) => signal switch
    {
        Signal.Vacuum => VacuumKPa(truck, atS),
        Signal.PumpTemp => PumpTempC(truck, atS),
        Signal.PtoHours => PtoHoursH(truck, atS),
        Signal.AmbientTemp => AmbientTempC(truck, atS),
        _ => null,
    };

    // The finaliser of SplitMix64: neighbouring instants get unrelated values.
    private static ulong Mix(int truck, long atS, int salt)
    {
        var z = unchecked(((ulong)atS * 0x9E3779B97F4A7C15UL) + ((ulong)truck << 32) + (ulong)salt);
        z = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL);
        z = unchecked((z ^ (z >> 27)) * 0x94D049BB133111EBUL);
        return z ^ (z >> 31);
    }
}
