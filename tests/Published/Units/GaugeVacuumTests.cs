using System.Globalization;
using Vanehour.Fleet.Units;

namespace Vanehour.Published.Units;

/// <summary>Vacuum below the standard atmosphere against absolute pressure, from a table computed from the definitions; see SOURCE.md.</summary>
public class GaugeVacuumTests
{
    private const double AtmospherePa = 101325;

    public static TheoryData<double, double, double, double> Rows
    {
        get
        {
            var data = new TheoryData<double, double, double, double>();
            foreach (var row in Table.Read("Units/gauge-vacuum-at-standard-atmosphere"))
            {
                data.Add(Number(row["vacuum_inHg_below_atmosphere"]), Number(row["absolute_Pa"]), Number(row["absolute_mbar"]), Number(row["absolute_psi"]));
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void AbsolutePressure_MatchesTheDefinitions(double inHg, double pa, double mbar, double psi)
    {
        // One part in 10^14 of the atmosphere: the difference of two numbers of that size.
        const double TolerancePa = AtmospherePa * 1e-14;
        var absolute = AbsolutePressure.FromSi(AtmospherePa - Pressure.FromInchesOfMercury(inHg).Si);

        Assert.Equal(pa, absolute.Si, TolerancePa);
        Assert.Equal(mbar, Unit.Hectopascal.FromSi(absolute.Si), TolerancePa / 100);
        Assert.Equal(psi, Unit.Psi.FromSi(absolute.Si), TolerancePa / 6894);
        Assert.Equal(inHg, Pressure.FromSi(AtmospherePa - pa).InchesOfMercury, TolerancePa / 3386);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
