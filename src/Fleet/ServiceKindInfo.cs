using System.Collections.Frozen;
using System.Collections.Immutable;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet;

/// <summary>What a kind of service record is called in files, and what value goes with it.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Name">Its name in files and on the command line, as vane_width.</param>
/// <param name="Dimension">What its value measures, or null where it takes none.</param>
/// <param name="Symbols">The unit symbols it takes; the first is assumed for no unit where <paramref name="UnitMayBeLeftOut"/>.</param>
/// <param name="UnitMayBeLeftOut">Whether a value without a unit is in the first of <paramref name="Symbols"/>.</param>
public sealed record ServiceKindInfo(
    ServiceKind Kind, string Name, Dimension? Dimension, ImmutableArray<string> Symbols, bool UnitMayBeLeftOut)
{
    private static readonly ImmutableArray<string> AnySymbol =
        [.. Unit.All.Select(u => u.Symbol).Order(StringComparer.Ordinal)];

    private static readonly FrozenDictionary<string, ServiceKindInfo> ByName;

    static ServiceKindInfo()
    {
        All = [.. Enum.GetValues<ServiceKind>().Select(Describe)];
        ByName = All.ToFrozenDictionary(i => i.Name, StringComparer.Ordinal);
    }

    /// <summary>Every kind, in the order of <see cref="ServiceKind"/>.</summary>
    public static ImmutableArray<ServiceKindInfo> All { get; }

    /// <summary>Whether the kind needs a value.</summary>
    public bool TakesValue => Symbols.Length > 0;

    /// <summary>The facts of <paramref name="kind"/>.</summary>
    public static ServiceKindInfo Of(ServiceKind kind) => All[(int)kind];

    /// <summary>The sentence for a name that is no kind.</summary>
    public static string Unknown(string name) => $"'{name}' is no kind of service record; one of {string.Join(", ", All.Select(k => k.Name))}.";

    /// <summary>Finds a kind by its name in files; case matters. Null where there is none.</summary>
    public static ServiceKindInfo? Find(string name) => ByName.GetValueOrDefault(name);

    private static ServiceKindInfo Describe(ServiceKind kind) => kind switch
    {
        ServiceKind.VaneWidth => Valued(kind, "vane_width", Units.Dimension.Length, "mm", "in"),
        ServiceKind.OilFill => Valued(kind, "oil_fill", Units.Dimension.Volume, "L", "l", "qt"),
        ServiceKind.ReliefVacuumSet => Valued(kind, "relief_vacuum_set", Units.Dimension.Pressure, "kPa", "inHg"),
        ServiceKind.ReliefPressureSet => Valued(kind, "relief_pressure_set", Units.Dimension.Pressure, "kPa", "psi"),
        ServiceKind.GaugeCheck => new(kind, "gauge_check", null, AnySymbol, UnitMayBeLeftOut: false),
        ServiceKind.MeterReplaced => new(kind, "meter_replaced", Units.Dimension.Duration, ["h"], UnitMayBeLeftOut: true),
        ServiceKind.InletFilter => Plain(kind, "inlet_filter"),
        ServiceKind.FloatShutoff => Plain(kind, "float_shutoff"),
        ServiceKind.GearboxOil => Plain(kind, "gearbox_oil"),
        _ => Plain(kind, kind.ToString().ToLowerInvariant()),
    };

    private static ServiceKindInfo Plain(ServiceKind kind, string name) => new(kind, name, null, [], UnitMayBeLeftOut: false);

    private static ServiceKindInfo Valued(ServiceKind kind, string name, Dimension dimension, params ImmutableArray<string> symbols) =>
        new(kind, name, dimension, symbols, UnitMayBeLeftOut: false);
}
