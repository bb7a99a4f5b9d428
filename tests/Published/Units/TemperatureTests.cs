using System.Globalization;
using Vanehour.Fleet.Units;

namespace Vanehour.Published.Units;

/// <summary>Fahrenheit, Celsius and kelvin against a table computed from the definitions; see SOURCE.md.</summary>
public class TemperatureTests
{
    // Values up to 400 in doubles; a handful of roundings.
    private const double Tolerance = 3e-13;

    public static TheoryData<double, double, double> Rows
    {
        get
        {
            var data = new TheoryData<double, double, double>();
            foreach (var row in Table.Read("Units/fahrenheit"))
            {
                data.Add(Number(row["degF"]), Number(row["degC"]), Number(row["K"]));
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Conversions_MatchTheDefinitions(double degF, double degC, double k)
    {
        Assert.Equal(k, Unit.Fahrenheit.ToSi(degF), Tolerance);
        Assert.Equal(degC, Unit.Fahrenheit.ConvertTo(Unit.Celsius, degF), Tolerance);
        Assert.Equal(degF, Unit.Celsius.ConvertTo(Unit.Fahrenheit, degC), Tolerance);
        Assert.Equal(k, Unit.Celsius.ConvertTo(Unit.Kelvin, degC), Tolerance);
        if (k > Tolerance)
        {
            Assert.Equal(degC, Temperature.FromFahrenheit(degF).Celsius, Tolerance);
            Assert.Equal(degF, Temperature.FromCelsius(degC).Fahrenheit, Tolerance);
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
