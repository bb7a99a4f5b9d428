using System.Text.Json;
using Vanehour.Models.MixedEffects;
using Vanehour.Models.Regression;

namespace Vanehour.Published.MixedModels;

/// <summary>Growth of 27 children's jaws, the usual example of random slopes, against R's nlme (another method) and a textbook; see SOURCE.md beside the data.</summary>
public sealed class OrthodontTests
{
    // nlme stops once its likelihood no longer moves in its last digits, which leaves the variances good to about the root of that.
    private const double Relative = 1e-6;

    public static TheoryData<string, string> Fits => new()
    {
        { "intercept", "REML" },
        { "slope", "REML" },
        { "slope and sex", "REML" },
        { "intercept", "ML" },
        { "slope", "ML" },
        { "slope and sex", "ML" },
    };

    [Theory]
    [MemberData(nameof(Fits))]
    public void MatchesNlme(string name, string method)
    {
        var file = DataFile.Open("MixedModels/orthodont");
        var wanted = file.Values.GetProperty("fits").EnumerateArray().Single(f => f.GetProperty("name").GetString() == name && f.GetProperty("method").GetString() == method);
        var fit = Fit(file, name, method == "ML" ? MixedCriterion.Ml : MixedCriterion.Reml);

        Assert.Equal(FitStatus.Converged, fit.Status);
        Assert.False(fit.IsOnBoundary);
        Assert.Equal((108, 27), (fit.Observations, fit.Groups.Length));
        Assert.Equal(wanted.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-9);
        Assert.Equal(wanted.GetProperty("sigma").GetDouble(), fit.ResidualScale, Relative);
        All(wanted.GetProperty("fixed"), fit.Coefficients.Select(c => c.Estimate), 1e-8);
        All(wanted.GetProperty("vcov"), fit.Covariance, Relative);
        All(wanted.GetProperty("between"), fit.RandomCovariance, Relative * fit.RandomCovariance[0]);
        Assert.Equal(wanted.GetProperty("groups").EnumerateArray().Select(g => g.GetString()), fit.Groups.Select(g => g.Group));
        All(wanted.GetProperty("ranef"), fit.Groups.SelectMany(g => g.Effects.Select(e => e.Estimate)), Relative);
        All(wanted.GetProperty("ranef_se"), fit.Groups.SelectMany(g => g.Effects.Select(e => e.StandardError)), Relative);
    }

    [Fact]
    public void MatchesPinheiroAndBates2000()
    {
        var file = DataFile.Open("MixedModels/orthodont");
        var printed = file.Values.GetProperty("published");
        var fit = Fit(file, "slope", MixedCriterion.Reml);

        Assert.Equal(printed.GetProperty("loglik").GetDouble(), Math.Round(fit.LogLikelihood, 4));
        All(printed.GetProperty("fixed"), fit.Coefficients.Select(c => Math.Round(c.Estimate, 6)), 0);
        All(printed.GetProperty("se"), fit.Coefficients.Select(c => Math.Round(c.StandardError, 6)), 0);
        All(printed.GetProperty("sd"), [Math.Round(fit.RandomScale(0), 5), Math.Round(fit.RandomScale(1), 5)], 0);
        Assert.Equal(printed.GetProperty("corr").GetDouble(), Math.Round(fit.RandomCorrelation(0, 1), 3));
        Assert.Equal(printed.GetProperty("sigma").GetDouble(), Math.Round(fit.ResidualScale, 5));
    }

    private static MixedFit Fit(DataFile file, string name, MixedCriterion criterion)
    {
        var (age, female) = (file.Numbers("age"), file.Numbers("female"));
        var withSex = name == "slope and sex";
        return LinearMixedModel.Fit(
            new MixedProblem
            {
                Columns = withSex ? ["age, mm per year", "female, mm"] : ["age, mm per year"],
                Rows = [.. age.Zip(female, (a, f) => withSex ? new[] { a, f } : [a])],
                Responses = file.Numbers("distance"),
                Groups = file.Texts("Subject"),
                RandomSlopes = name == "intercept" ? [] : [0],
            },
            criterion);
    }

    // Arrays of arrays are taken row by row.
    private static void All(JsonElement wanted, IEnumerable<double> actual, double tolerance)
    {
        double[] expected = [.. wanted.EnumerateArray().SelectMany(e => e.ValueKind == JsonValueKind.Array ? [.. e.EnumerateArray()] : new[] { e }).Select(e => e.GetDouble())];
        double[] got = [.. actual];
        Assert.Equal(expected.Length, got.Length);
        Assert.All(expected.Zip(got), p => Assert.Equal(p.First, p.Second, tolerance));
    }
}
