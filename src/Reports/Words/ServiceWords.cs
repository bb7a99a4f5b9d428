using Vanehour.Fleet;
using Vanehour.Fleet.Units;

namespace Vanehour.Reports.Words;

/// <summary>Service records in one or two words, and which of them matter most to somebody reading a trend.</summary>
internal static class ServiceWords
{
    public static string Of(ServiceRecord record, DisplayUnits units) => Of(record.Kind) + record.Kind switch
    {
        ServiceKind.VaneWidth => Value(record, units.Length, units.Length == Unit.Millimetre ? 1 : 3),
        ServiceKind.OilFill => Value(record, units.Oil, 1),
        ServiceKind.ReliefVacuumSet => Value(record, units.Vacuum, 1),
        ServiceKind.ReliefPressureSet => Value(record, units.Pressure, 0),
        _ => string.Empty,
    };

    public static string Of(ServiceKind kind) => kind switch
    {
        ServiceKind.Rebuild => "rebuild",
        ServiceKind.Failure => "failure",
        ServiceKind.Fitted => "pump fitted",
        ServiceKind.Removed => "pump removed",
        ServiceKind.VaneWidth => "vanes",
        ServiceKind.OilFill => "oil",
        ServiceKind.ReliefVacuumSet => "relief",
        ServiceKind.ReliefPressureSet => "pressure relief",
        ServiceKind.GaugeCheck => "gauge check",
        ServiceKind.Flush => "flush",
        ServiceKind.InletFilter => "inlet filter",
        ServiceKind.FloatShutoff => "float",
        ServiceKind.Hose => "hose",
        ServiceKind.Gasket => "gasket",
        ServiceKind.Coupling => "coupling",
        ServiceKind.GearboxOil => "gearbox oil",
        ServiceKind.Deodoriser => "deodoriser",
        ServiceKind.Inspection => "inspection",
        ServiceKind.MeterReplaced => "meter replaced",
        ServiceKind.Round => "round",
        _ => kind.ToString(),
    };

    /// <summary>Whether records of a kind repeat and say nothing more than that it was done: all but lives, meters, and what was measured or set.</summary>
    public static bool IsRoutine(ServiceKind kind) => Rank(kind) >= 2 && kind != ServiceKind.ReliefPressureSet;

    public static bool EndsOrStartsLife(ServiceKind kind) =>
        kind is ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Fitted or ServiceKind.Removed;

    /// <summary>0 for what explains most in a trend.</summary>
    public static int Rank(ServiceKind kind) => kind switch
    {
        ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Fitted or ServiceKind.Removed => 0,
        ServiceKind.VaneWidth or ServiceKind.ReliefVacuumSet or ServiceKind.MeterReplaced => 1,
        ServiceKind.InletFilter or ServiceKind.FloatShutoff or ServiceKind.Hose or ServiceKind.Gasket or ServiceKind.Coupling => 2,
        ServiceKind.OilFill or ServiceKind.Flush or ServiceKind.Round or ServiceKind.Deodoriser => 4,
        _ => 3,
    };

    private static string Value(ServiceRecord record, Unit unit, int decimals)
    {
        var fits = record.Unit is { } symbol && Unit.Find(symbol) is { } given && given.Dimension == unit.Dimension;
        return fits && record.ValueSi is { } si && double.IsFinite(si)
            ? $" {NumberWords.Fixed(unit.FromSi(si), decimals)} {DisplayUnits.SymbolOf(unit)}"
            : string.Empty;
    }
}
