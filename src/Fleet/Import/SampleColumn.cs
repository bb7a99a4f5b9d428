using System.Collections.Frozen;
using System.Collections.Immutable;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Import;

/// <summary>A column of a sample file: a signal's name with the unit as its ending, as vacuum_inhg; pto has no unit.</summary>
/// <param name="Name">The column's name.</param>
/// <param name="Signal">The signal.</param>
/// <param name="Unit">The unit the column is in.</param>
public sealed record SampleColumn(string Name, SignalInfo Signal, Unit Unit)
{
    /// <summary>The column that names the truck.</summary>
    public const string Truck = "truck";

    /// <summary>The column that gives the instant.</summary>
    public const string Time = "time";

    private static readonly (string Ending, Unit Unit)[] Endings =
    [
        ("h", Unit.Hour), ("min", Unit.Minute), ("s", Unit.Second),
        ("kpa", Unit.Kilopascal), ("inhg", Unit.InchOfMercury), ("psi", Unit.Psi), ("hpa", Unit.Hectopascal), ("pa", Unit.Pascal),
        ("c", Unit.Celsius), ("degf", Unit.Fahrenheit), ("k", Unit.Kelvin),
        ("rpm", Unit.Rpm),
        ("l", Unit.LitreUpper), ("qt", Unit.Quart), ("gal", Unit.USGallon), ("m3", Unit.CubicMetre),
    ];

    private static readonly FrozenDictionary<string, SampleColumn> ByName =
        SignalInfo.All.SelectMany(Of).ToFrozenDictionary(c => c.Name, StringComparer.Ordinal);

    /// <summary>The columns that files are written with: one for each signal, in the order of <see cref="Signal"/>, in its canonical unit.</summary>
    public static ImmutableArray<SampleColumn> Canonical { get; } = [.. SignalInfo.All.Select(s => Of(s).First(c => c.Unit == s.Unit))];

    /// <summary>Finds a column by its name; case matters. Null where there is none.</summary>
    public static SampleColumn? Find(string name) => ByName.GetValueOrDefault(name);

    /// <summary>The columns that a signal may come in.</summary>
    public static IEnumerable<SampleColumn> Of(SignalInfo signal)
    {
        ArgumentNullException.ThrowIfNull(signal);
        return signal.Unit.Dimension == Dimension.Flag
            ? [new SampleColumn(signal.Name, signal, signal.Unit)]
            : Endings.Where(e => e.Unit.Dimension == signal.Unit.Dimension).Select(e => new SampleColumn($"{signal.Name}_{e.Ending}", signal, e.Unit));
    }
}
