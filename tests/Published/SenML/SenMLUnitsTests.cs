using System.Globalization;
using Vanehour.Ingest.Payloads;
using Vanehour.Published.Units;

namespace Vanehour.Published.SenML;

/// <summary>Our unit table against the registries of RFC 8428 and RFC 8798; see SOURCE.md.</summary>
public class SenMLUnitsTests
{
    private static readonly IReadOnlyList<IReadOnlyDictionary<string, string>> Primary = Table.Read("SenML/units");
    private static readonly IReadOnlyList<IReadOnlyDictionary<string, string>> Secondary = Table.Read("SenML/secondary-units");

    [Fact]
    public void Table_HoldsTheRegistriesUnits_AndNoOthers() =>
        Assert.Equal(
            Primary.Select(r => r["symbol"]).Concat(Secondary.Select(r => r["secondary_unit"])).Order(StringComparer.Ordinal),
            SenMLUnits.All.Select(u => u.Symbol).Order(StringComparer.Ordinal));

    [Fact]
    public void PrimaryUnits_MatchRfc8428Section12_1()
    {
        foreach (var row in Primary)
        {
            var unit = SenMLUnits.Find(row["symbol"])!;
            Assert.Equal((row["symbol"], 1d, 0d, row["not_recommended"] == "yes"), (unit.Primary, unit.Scale, unit.Offset, unit.NotRecommended));
        }
    }

    [Fact]
    public void SecondaryUnits_MatchRfc8798Section3()
    {
        foreach (var row in Secondary)
        {
            var unit = SenMLUnits.Find(row["secondary_unit"])!;
            Assert.Equal((row["senml_unit"], Number(row["scale_decimal"]), Number(row["offset"])), (unit.Primary, unit.Scale, unit.Offset));
        }
    }

    [Theory]
    [InlineData("ms", 100, 0.1)]
    [InlineData("dBm", 10, -20)]
    public void SecondaryUnits_ConvertAsInRfc8798Section3(string symbol, double value, double primary)
    {
        var unit = SenMLUnits.Find(symbol)!;

        Assert.Equal(primary, (value * unit.Scale) + unit.Offset, 1e-15);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
