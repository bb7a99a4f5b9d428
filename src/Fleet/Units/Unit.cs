using System.Collections.Frozen;

namespace Vanehour.Fleet.Units;

/// <summary>
/// A unit by its symbol, with SI value = value * <paramref name="Scale"/> + <paramref name="Offset"/>.
/// </summary>
/// <remarks>
/// Factors are the exact definitions behind the conventional values of
/// [SP811] A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units, NIST SP 811 (2008), Appendix B.8.
/// The inch of mercury is the conventional one (3.386 389 E+03 Pa), not that of 32 degF or 60 degF.
/// </remarks>
/// <param name="Symbol">The symbol as written in payloads and files; case matters.</param>
/// <param name="Dimension">What it measures.</param>
/// <param name="Scale">SI units per unit; not zero.</param>
/// <param name="Offset">SI value of zero units; only temperatures have one.</param>
public sealed record Unit(string Symbol, Dimension Dimension, double Scale, double Offset = 0)
{
    private const double Inch = 0.0254;
    private const double Foot = 12 * Inch;
    private const double StandardGravity = 9.80665;
    private const double Pound = 0.45359237;
    private const double CubicFoot = Foot * Foot * Foot;

    // 231 cubic inches.
    private const double Gallon = 231 * Inch * Inch * Inch;

    public static readonly Unit Flag = new("0/1", Dimension.Flag, 1);
    public static readonly Unit Pascal = new("Pa", Dimension.Pressure, 1);
    public static readonly Unit Hectopascal = new("hPa", Dimension.Pressure, 100);
    public static readonly Unit Kilopascal = new("kPa", Dimension.Pressure, 1000);

    // 25.4 mm of mercury at 13 595.1 kg/m3 under standard gravity.
    public static readonly Unit InchOfMercury = new("inHg", Dimension.Pressure, Inch * 13595.1 * StandardGravity);
    public static readonly Unit Psi = new("psi", Dimension.Pressure, Pound * StandardGravity / (Inch * Inch));
    public static readonly Unit Kelvin = new("K", Dimension.Temperature, 1);
    public static readonly Unit Celsius = new("Cel", Dimension.Temperature, 1, 273.15);
    public static readonly Unit Fahrenheit = new("degF", Dimension.Temperature, 5.0 / 9.0, 459.67 * 5.0 / 9.0);
    public static readonly Unit CubicMetre = new("m3", Dimension.Volume, 1);
    public static readonly Unit Litre = new("l", Dimension.Volume, 0.001);
    public static readonly Unit LitreUpper = new("L", Dimension.Volume, 0.001);
    public static readonly Unit Quart = new("qt", Dimension.Volume, Gallon / 4);
    public static readonly Unit USGallon = new("gal", Dimension.Volume, Gallon);
    public static readonly Unit CubicMetrePerSecond = new("m3/s", Dimension.VolumeFlow, 1);
    public static readonly Unit CubicMetrePerHour = new("m3/h", Dimension.VolumeFlow, 1.0 / 3600);
    public static readonly Unit CubicFootPerMinute = new("cfm", Dimension.VolumeFlow, CubicFoot / 60);
    public static readonly Unit LitrePerHour = new("L/h", Dimension.VolumeFlow, 0.001 / 3600);
    public static readonly Unit QuartPerHour = new("qt/h", Dimension.VolumeFlow, Gallon / 4 / 3600);
    public static readonly Unit Metre = new("m", Dimension.Length, 1);
    public static readonly Unit Millimetre = new("mm", Dimension.Length, 0.001);
    public static readonly Unit InchLength = new("in", Dimension.Length, Inch);
    public static readonly Unit FootLength = new("ft", Dimension.Length, Foot);
    public static readonly Unit Second = new("s", Dimension.Duration, 1);
    public static readonly Unit Minute = new("min", Dimension.Duration, 60);
    public static readonly Unit Hour = new("h", Dimension.Duration, 3600);
    public static readonly Unit PerSecond = new("1/s", Dimension.RotationalSpeed, 1);
    public static readonly Unit PerMinute = new("1/min", Dimension.RotationalSpeed, 1.0 / 60);
    public static readonly Unit Rpm = new("rpm", Dimension.RotationalSpeed, 1.0 / 60);

    private static readonly FrozenDictionary<string, Unit> BySymbol = new[]
    {
        Pascal, Hectopascal, Kilopascal, InchOfMercury, Psi, Kelvin, Celsius, Fahrenheit, CubicMetre, Litre, LitreUpper, Quart, USGallon,
        CubicMetrePerSecond, CubicMetrePerHour, CubicFootPerMinute, LitrePerHour, QuartPerHour, Metre, Millimetre, InchLength, FootLength,
        Second, Minute, Hour, PerSecond, PerMinute, Rpm,
    }.ToFrozenDictionary(u => u.Symbol, StringComparer.Ordinal);

    /// <summary>Every unit that has a symbol, in no particular order.</summary>
    public static IEnumerable<Unit> All => BySymbol.Values;

    /// <summary>Finds a unit by its symbol; case matters. Null where there is none.</summary>
    public static Unit? Find(string symbol) => BySymbol.GetValueOrDefault(symbol);

    /// <summary>The SI value of <paramref name="value"/> of this unit.</summary>
    public double ToSi(double value) => (value * Scale) + Offset;

    /// <summary>How many of this unit make the SI value <paramref name="si"/>.</summary>
    public double FromSi(double si) => (si - Offset) / Scale;

    /// <summary>Converts <paramref name="value"/> of this unit to <paramref name="target"/>; the same unit gives the value unchanged.</summary>
    /// <exception cref="ArgumentException">The two units measure different things.</exception>
    public double ConvertTo(Unit target, double value)
    {
        ArgumentNullException.ThrowIfNull(target);
        if (Dimension != target.Dimension)
        {
            throw new ArgumentException($"{Symbol} measures {Dimension}, {target.Symbol} measures {target.Dimension}.", nameof(target));
        }

        return Scale == target.Scale && Offset == target.Offset ? value : target.FromSi(ToSi(value));
    }
}
