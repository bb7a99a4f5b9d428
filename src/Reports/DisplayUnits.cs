using Vanehour.Fleet.Units;

namespace Vanehour.Reports;

/// <summary>The units in which people see quantities. Results stay in canonical units; only what is drawn is converted.</summary>
/// <param name="Vacuum">Of vacuum below ambient.</param>
/// <param name="Pressure">Of pressure above ambient.</param>
/// <param name="TemperatureDifference">Of temperature differences; the offset of the unit does not enter.</param>
/// <param name="Oil">Of oil volumes.</param>
/// <param name="Length">Of vane widths.</param>
public sealed record DisplayUnits(Unit Vacuum, Unit Pressure, Unit TemperatureDifference, Unit Oil, Unit Length)
{
    /// <summary>What the trade reads on its gauges: inHg, psi, degF, US qt, in.</summary>
    public static DisplayUnits Trade { get; } = new(Unit.InchOfMercury, Unit.Psi, Unit.Fahrenheit, Unit.Quart, Unit.InchLength);

    /// <summary>kPa, K, L, mm.</summary>
    public static DisplayUnits Si { get; } = new(Unit.Kilopascal, Unit.Kilopascal, Unit.Kelvin, Unit.LitreUpper, Unit.Millimetre);

    /// <summary>A vacuum in the display unit.</summary>
    /// <param name="kilopascals">kPa below ambient.</param>
    public double VacuumOf(double kilopascals) => Unit.Kilopascal.ConvertTo(Vacuum, kilopascals);

    /// <summary>A temperature difference in the display unit: 10 K are 18 degF.</summary>
    /// <param name="kelvins">The difference, K.</param>
    public double TemperatureDifferenceOf(double kelvins) => kelvins * Unit.Kelvin.Scale / TemperatureDifference.Scale;

    /// <summary>An oil volume in the display unit.</summary>
    /// <param name="litres">The volume, L.</param>
    public double OilOf(double litres) => Unit.LitreUpper.ConvertTo(Oil, litres);

    /// <summary>The symbol of a unit as people read it in print.</summary>
    public static string SymbolOf(Unit unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return unit.Symbol switch
        {
            "degF" => "°F",
            "Cel" => "°C",
            "l" => "L",
            var symbol => symbol,
        };
    }
}
