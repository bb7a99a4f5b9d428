using System.Collections.Frozen;
using System.Collections.Immutable;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet;

/// <summary>The fixed facts of a signal.</summary>
/// <param name="Signal">Which one.</param>
/// <param name="Name">Its name in payloads and files.</param>
/// <param name="Unit">The canonical unit, in which samples hold it.</param>
/// <param name="Lowest">Lowest value a sensor can mean, in the canonical unit.</param>
/// <param name="Highest">Highest value a sensor can mean, in the canonical unit.</param>
public sealed record SignalInfo(Signal Signal, string Name, Unit Unit, double Lowest, double Highest)
{
    /// <summary>How many signals there are.</summary>
    public const int Count = 10;

    private static readonly FrozenDictionary<string, SignalInfo> ByName;

    static SignalInfo()
    {
        All =
        [
            new(Signal.PtoHours, "pto_hours", Unit.Hour, 0, 1_000_000),
            new(Signal.Pto, "pto", Unit.Flag, 0, 1),
            new(Signal.Vacuum, "vacuum", Unit.Kilopascal, -5, 105),
            new(Signal.Pressure, "pressure", Unit.Kilopascal, -5, 700),
            new(Signal.PumpTemp, "pump_temp", Unit.Celsius, -60, 400),
            new(Signal.AmbientTemp, "ambient_temp", Unit.Celsius, -60, 400),
            new(Signal.PumpSpeed, "pump_speed", Unit.Rpm, 0, 5000),
            new(Signal.OilUsed, "oil_used", Unit.LitreUpper, 0, 1_000_000),
            new(Signal.OilLevel, "oil_level", Unit.LitreUpper, 0, 200),

            // Between a little below the highest road in use and above the highest barometer on record; invented bounds.
            new(Signal.Baro, "baro", Unit.Kilopascal, 40, 115),
        ];
        ByName = All.ToFrozenDictionary(i => i.Name, StringComparer.Ordinal);
    }

    /// <summary>Whether a sensor can mean <paramref name="value"/>: inside the range, and 0 or 1 for a flag. NaN and infinity are no value.</summary>
    /// <param name="value">In the canonical unit.</param>
    public bool Admits(double value) => value >= Lowest && value <= Highest && (Unit.Dimension != Dimension.Flag || value is 0 or 1);

    /// <summary>Every signal, in the order of <see cref="Fleet.Signal"/>.</summary>
    public static ImmutableArray<SignalInfo> All { get; }

    /// <summary>The facts of <paramref name="signal"/>.</summary>
    public static SignalInfo Of(Signal signal) => All[(int)signal];

    /// <summary>Finds a signal by its name; case matters. Null where there is none.</summary>
    public static SignalInfo? Find(string name) => ByName.GetValueOrDefault(name);
}
