using System.Globalization;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;

namespace Vanehour.Reports.Words;

/// <summary>Evidence as a short sentence, in the units that its reader is used to.</summary>
public static class EvidenceText
{
    private const double FahrenheitPerKelvin = 1.8;

    /// <summary>The sentence.</summary>
    /// <param name="evidence">What the data says.</param>
    /// <param name="isTrade">Whether in the trade's units: inHg, degF, qt/h.</param>
    public static string Of(Evidence evidence, bool isTrade)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var (unit, convert) = isTrade ? Trade(evidence.Unit) : (evidence.Unit, v => v);
        var expected = (evidence.ExpectedLow, evidence.ExpectedHigh) switch
        {
            ({ } low, { } high) => $", expected {Text(low)} to {Text(high)}",
            ({ } low, null) => $", expected at least {Text(low)}",
            (null, { } high) => $", expected at most {Text(high)}",
            _ => string.Empty,
        };

        // A ratio has no unit to show.
        return $"{evidence.Indicator} {Text(evidence.Value)}{(unit is "1" or "" ? string.Empty : " " + unit)}{expected}";

        string Text(double value) => Digits(convert(value));
    }

    /// <summary>What a unit is in the trade, and how its values become that.</summary>
    public static (string Unit, Func<double, double> Convert) Trade(string unit) => unit switch
    {
        "kPa" => (Unit.InchOfMercury.Symbol, v => Unit.Kilopascal.ConvertTo(Unit.InchOfMercury, v)),
        "Cel" => (Unit.Fahrenheit.Symbol, v => Unit.Celsius.ConvertTo(Unit.Fahrenheit, v)),
        "K" => (Unit.Fahrenheit.Symbol, v => v * FahrenheitPerKelvin),
        "L/h" => ("qt/h", v => Unit.LitreUpper.ConvertTo(Unit.Quart, v)),
        _ => (unit, v => v),
    };

    /// <summary>A value with three digits that count; from 1000 on whole numbers, never 1.24E+03.</summary>
    public static string Digits(double value)
    {
        var rounded = double.Parse(value.ToString("G3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var size = rounded == 0 ? 0 : (int)Math.Floor(Math.Log10(Math.Abs(rounded)));
        return value.ToString("F" + Math.Clamp(2 - size, 0, 3).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
