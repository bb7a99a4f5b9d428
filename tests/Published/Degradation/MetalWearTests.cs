using System.Text.Json;
using Vanehour.Models.MixedEffects;
using Vanehour.Models.Regression;

namespace Vanehour.Published.Degradation;

/// <summary>Sliding wear of metal, the nearest published kin of worn vanes, against values computed with R; see SOURCE.md beside the data.</summary>
public sealed class MetalWearTests
{
    // Least squares in doubles on both sides; the json holds 15 digits.
    private const double Exact = 1e-11;

    private static readonly DataFile File = DataFile.Open("Degradation/metal-wear");
    private static readonly double[] LogCycles = [.. File.Numbers("cycles").Select(v => Math.Log(v))];
    private static readonly double[] LogGrams = [.. File.Numbers("grams").Select(v => Math.Log(v))];
    private static readonly double[] LogWidth = [.. File.Numbers("microns").Select(v => Math.Log(v))];

    [Fact]
    public void EachSpecimen_IsFittedAsByR()
    {
        var units = File.Values.GetProperty("per_unit").EnumerateArray().ToDictionary(u => u.GetProperty("unit").GetRawText());
        Assert.Equal(12, units.Count);
        foreach (var (unit, rows) in File.By("unit"))
        {
            var fit = Lines(["ln cycles"], [.. rows.Select(i => new[] { LogCycles[i] })], [.. rows.Select(i => LogWidth[i])]);
            var wanted = units[unit];
            Near(wanted, "b0", fit.Coefficients[0].Estimate);
            Near(wanted, "b1", fit.Coefficients[1].Estimate);
            Near(wanted, "se_b0", fit.Coefficients[0].StandardError);
            Near(wanted, "se_b1", fit.Coefficients[1].StandardError);
            Near(wanted, "residual_sd", fit.ResidualScale);
            Near(wanted, "r_squared", fit.RSquared);

            // An exponential of 50 microns at up to 10 million cycles: errors grow by 1/b1 and by the logarithm.
            var cycles = Math.Exp((Math.Log(50) - fit.Coefficients[0].Estimate) / fit.Coefficients[1].Estimate);
            Assert.Equal(wanted.GetProperty("cycles_to_50_microns").GetDouble(), cycles, 1e-9 * cycles);
        }
    }

    [Fact]
    public void AllSpecimens_ArePooledAsByR()
    {
        var fit = Lines(["ln cycles", "ln grams"], Both(), LogWidth);
        var wanted = File.Values.GetProperty("pooled");
        Near(wanted.GetProperty("coefficients"), fit.Coefficients.Select(c => c.Estimate), Exact);
        Near(wanted.GetProperty("se"), fit.Coefficients.Select(c => c.StandardError), Exact);
        Near(wanted, "residual_sd", fit.ResidualScale);
        Near(wanted, "r_squared", fit.RSquared);
        var at = wanted.GetProperty("prediction_at");
        var prediction = fit.Predict([Math.Log(at.GetProperty("cycles").GetDouble()), Math.Log(at.GetProperty("grams").GetDouble())], 1, 0.95);
        Near(at, "fit_ln", prediction.Mean);

        // Student's quantile comes by an inversion that is good to about ten digits.
        Assert.Equal(at.GetProperty("pi95_ln")[0].GetDouble(), prediction.Low, 1e-9);
        Assert.Equal(at.GetProperty("pi95_ln")[1].GetDouble(), prediction.High, 1e-9);
    }

    [Fact]
    public void RandomIntercept_IsThatOfNlme()
    {
        var fit = LinearMixedModel.Fit(Problem());
        var wanted = File.Values.GetProperty("random_intercept_reml");
        Assert.Equal(FitStatus.Converged, fit.Status);
        Near(wanted.GetProperty("fixed"), fit.Coefficients.Select(c => c.Estimate), 1e-10);

        // The scale between units is given with eight digits, and nlme's search ends near 1e-7.
        Assert.Equal(wanted.GetProperty("sd_unit").GetDouble(), fit.RandomScale(0), 1e-7);
        Assert.Equal(wanted.GetProperty("residual_sd").GetDouble(), fit.ResidualScale, 1e-8);
        Assert.Equal((96, 12), (fit.Observations, fit.Groups.Length));
    }

    [Fact]
    public void RandomIntercept_IsTheClosedFormOfABalancedDesign()
    {
        // Every specimen has the same cycles: the residual variance is that of least squares with a constant for each specimen, the variance between them that of the specimens' means
        // about their line on ln grams, less the residual variance over 8 readings.
        var specimens = File.By("unit").ToList();
        var within = Lines(
            ["ln cycles", .. specimens.Skip(1).Select(s => s.Value)],
            [.. Enumerable.Range(0, 96).Select(i => (double[])[LogCycles[i], .. specimens.Skip(1).Select(s => s.Rows.Contains(i) ? 1.0 : 0)])],
            LogWidth);
        var means = Lines(["ln grams"], [.. specimens.Select(s => new[] { LogGrams[s.Rows[0]] })], [.. specimens.Select(s => s.Rows.Average(i => LogWidth[i]))]);
        var residual = within.ResidualScale * within.ResidualScale;
        var between = (means.ResidualScale * means.ResidualScale) - (residual / 8);

        var fit = LinearMixedModel.Fit(Problem());

        Assert.Equal(within.ResidualScale, fit.ResidualScale, 1e-9);
        Assert.Equal(between, fit.RandomCovariance[0], 1e-9);
        Assert.Equal(means.Coefficients[1].StandardError, fit.Coefficients[2].StandardError, 1e-9);
        Assert.Equal(within.Coefficients[1].StandardError, fit.Coefficients[1].StandardError, 1e-9);
        foreach (var (group, specimen) in fit.Groups.Zip(specimens))
        {
            // Each mean is drawn to the line by the share of its variance that is between specimens.
            var mean = specimen.Rows.Average(i => LogWidth[i]) - means.Coefficients[0].Estimate - (means.Coefficients[1].Estimate * LogGrams[specimen.Rows[0]]);
            Assert.Equal(mean * between / (between + (residual / 8)), group.Effects[0].Estimate, 1e-9);
        }
    }

    private static MixedProblem Problem() => new() { Columns = ["ln cycles", "ln grams"], Rows = Both(), Responses = LogWidth, Groups = File.Texts("unit") };

    private static double[][] Both() => [.. LogCycles.Zip(LogGrams, (c, g) => new[] { c, g })];

    private static LinearFit Lines(string[] columns, double[][] rows, double[] y) => WeightedLeastSquares.Fit(new LinearProblem { Columns = [.. columns], Rows = rows, Responses = y });

    private static void Near(JsonElement wanted, string name, double actual) =>
        Assert.Equal(wanted.GetProperty(name).GetDouble(), actual, Exact * Math.Max(1, Math.Abs(actual)));

    private static void Near(JsonElement wanted, IEnumerable<double> actual, double tolerance) =>
        Assert.All(wanted.EnumerateObject().Select(o => o.Value.GetDouble()).Zip(actual), p => Assert.Equal(p.First, p.Second, tolerance));
}
