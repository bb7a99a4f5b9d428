using System.Globalization;
using System.Text.Json;
using Vanehour.Models.Regression;

namespace Vanehour.Published.MetaAnalysis;

public sealed class RandomEffectsTests
{
    // R's uniroot was asked for 1e-14 and got about 1e-9.
    private const double Tolerance = 1e-7;

    [Fact]
    public void Mean_MatchesPauleAndMandelByR()
    {
        var (y, se, _) = Trials();
        var fit = RandomEffects.Fit(y, se, new int[y.Length], 1)!;
        var expected = Values().GetProperty("mean");
        Near(expected, "tau2", fit.BetweenSd * fit.BetweenSd);
        Near(expected, "estimate", fit.Groups.Means[0]);
        Near(expected, "se", fit.Groups.StandardError(0));
        Assert.Equal(12, fit.Groups.DegreesOfFreedom);
    }

    [Fact]
    public void Regression_MatchesPauleAndMandelByR()
    {
        var (y, se, latitude) = Trials();
        var fit = RandomEffects.Fit(y, se, new int[y.Length], 1, [.. latitude.Select(l => new[] { l })])!;
        var expected = Values().GetProperty("latitude");
        Near(expected, "tau2", fit.BetweenSd * fit.BetweenSd);
        Near(expected, "intercept", fit.Groups.Means[0]);
        Near(expected, "intercept_se", fit.Groups.StandardError(0));
        Near(expected, "slope", fit.Slopes[0]);
        Near(expected, "slope_se", fit.SlopeErrors[0]);
    }

    private static void Near(JsonElement expected, string name, double value) => Assert.InRange(value - expected.GetProperty(name).GetDouble(), -Tolerance, Tolerance);

    private static (double[] Y, double[] Se, double[] Latitude) Trials()
    {
        var rows = Text("bcg.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Skip(1)
            .Select(l => l.Split(',').Select(f => double.Parse(f, CultureInfo.InvariantCulture)).ToArray())
            .ToList();
        return (
            [.. rows.Select(r => Math.Log(r[0] / (r[0] + r[1])) - Math.Log(r[2] / (r[2] + r[3])))],
            [.. rows.Select(r => Math.Sqrt((1 / r[0]) - (1 / (r[0] + r[1])) + (1 / r[2]) - (1 / (r[2] + r[3]))))],
            [.. rows.Select(r => r[4])]);
    }

    private static JsonElement Values()
    {
        using var document = JsonDocument.Parse(Text("bcg.json"));
        return document.RootElement.Clone();
    }

    private static string Text(string name)
    {
        using var reader = new StreamReader(typeof(RandomEffectsTests).Assembly.GetManifestResourceStream("MetaAnalysis/" + name)!);
        return reader.ReadToEnd();
    }
}
