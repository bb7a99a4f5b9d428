using System.Text.Json;
using Vanehour.Models.Indicators;

namespace Vanehour.Published.ControlCharts;

/// <summary>Control charts against the NIST/SEMATECH e-Handbook and published average run lengths; see SOURCE.md beside the data.</summary>
public class ControlChartTests
{
    // The handbook prints two decimals, some of them cut instead of rounded.
    private const double Printed = 0.0101;

    [Fact]
    public void Cusum_MatchesNistHandbook6_3_2_3()
    {
        using var document = Open("nist-cusum");
        var root = document.RootElement;
        var printed = root.GetProperty("handbook_printed_2_decimals");
        var high = Numbers(printed.GetProperty("s_hi"));
        var low = Numbers(printed.GetProperty("s_lo"));
        double[] means = [.. root.GetProperty("computed").EnumerateArray().Select(g => g.GetProperty("x").GetDouble())];
        var target = root.GetProperty("target").GetDouble();
        var cusum = new Cusum(root.GetProperty("k").GetDouble(), root.GetProperty("h").GetDouble());
        var signals = new List<int>();
        Assert.Equal(20, means.Length);
        for (var i = 0; i < means.Length; i++)
        {
            cusum.Add(means[i] - target);
            Assert.Equal(high[i], cusum.High, Printed);
            Assert.Equal(low[i], cusum.Low, Printed);
            if (cusum.SignalsHigh || cusum.SignalsLow)
            {
                signals.Add(i + 1);
            }
        }

        Assert.Equal([14, 15, 16, 17, 18, 19, 20], signals);
    }

    [Fact]
    public void Individuals_MatchesNistHandbook6_3_2_2()
    {
        using var document = Open("nist-individuals");
        var root = document.RootElement;
        var chart = IndividualsChart.Of(Numbers(root.GetProperty("x")));
        var published = root.GetProperty("published");

        // The handbook prints the limits with four decimals, from a mean moving range of four.
        Assert.Equal(published.GetProperty("xbar").GetDouble(), chart.Centre, 0.00005);
        Assert.Equal(published.GetProperty("ucl").GetDouble(), chart.High, 0.0002);
        Assert.Equal(published.GetProperty("lcl").GetDouble(), chart.Low, 0.0002);
    }

    [Theory]
    [InlineData(4, 0, 168, 1)]
    [InlineData(5, 0, 465, 2)]
    [InlineData(4, 1, 8.38, 0.01)]
    [InlineData(5, 1, 10.4, 0.05)]
    public void CusumRunLength_MatchesThePublishedTable(double limit, double shift, double published, double tolerance) =>
        Assert.Equal(published, RunLength.OfCusum(0.5, limit, shift), tolerance);

    // The published limits have three decimals, which leaves about half a per cent of the run length open.
    [Theory]
    [InlineData(0.05, 2.615)]
    [InlineData(0.1, 2.814)]
    [InlineData(0.2, 2.962)]
    public void EwmaRunLength_MatchesLucasAndSaccucci(double lambda, double limit) => Assert.Equal(500, RunLength.OfEwma(lambda, limit), 4.0);

    private static JsonDocument Open(string name)
    {
        using var stream = typeof(ControlChartTests).Assembly.GetManifestResourceStream($"ControlCharts/{name}");
        Assert.NotNull(stream);
        return JsonDocument.Parse(stream);
    }

    private static double[] Numbers(JsonElement array) => [.. array.EnumerateArray().Select(e => e.GetDouble())];
}
