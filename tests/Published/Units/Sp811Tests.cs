using System.Globalization;
using Vanehour.Fleet.Units;

namespace Vanehour.Published.Units;

/// <summary>Our conversion factors against NIST SP 811 (2008), Appendix B.8; see SOURCE.md.</summary>
public class Sp811Tests
{
    private static readonly IReadOnlyList<IReadOnlyDictionary<string, string>> Rows = Table.Read("Units/sp811");

    // Our symbol, and the table's for the same unit.
    private static readonly Dictionary<string, string> Symbols = new(StringComparer.Ordinal)
    {
        ["inHg"] = "inHg",
        ["psi"] = "psi",
        ["qt"] = "qt_us",
        ["gal"] = "gal_us",
        ["cfm"] = "ft3/min",
        ["L"] = "L",
        ["l"] = "L",
        ["hPa"] = "mbar",
        ["in"] = "in",
        ["h"] = "h",
    };

    public static TheoryData<string> Units => [.. Symbols.Keys];

    [Theory]
    [MemberData(nameof(Units))]
    public void Factor_MatchesSp811_ToTheDigitsPrinted(string symbol)
    {
        var printed = Row(symbol)["sp811_factor"];
        var digits = printed[..printed.IndexOf('E', StringComparison.Ordinal)].Count(char.IsAsciiDigit);
        var factor = Unit.Find(symbol)!.Scale;

        // The table prints 1.0E+05 for an exact factor: no fewer digits than seven are asked of one.
        Assert.Equal(
            double.Parse(printed, CultureInfo.InvariantCulture),
            double.Parse(factor.ToString("E" + (Math.Max(digits, 7) - 1), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));
    }

    [Theory]
    [MemberData(nameof(Units))]
    public void Factor_MatchesTheExactDefinition(string symbol)
    {
        var exact = double.Parse(Row(symbol)["factor_from_exact_definition"], CultureInfo.InvariantCulture);

        // A few roundings of a double.
        Assert.Equal(1, Unit.Find(symbol)!.Scale / exact, 4e-16 * 4);
    }

    [Fact]
    public void InchOfMercury_IsTheConventionalOne_NotThoseOfSp811At32Or60DegF()
    {
        Assert.NotEqual(3386.38, Math.Round(Unit.InchOfMercury.Scale, 2));
        Assert.Equal(3386.389, Math.Round(Unit.InchOfMercury.Scale, 3));
    }

    private static IReadOnlyDictionary<string, string> Row(string symbol) => Rows.Single(r => r["symbol"] == Symbols[symbol]);
}
