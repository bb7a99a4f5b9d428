using System.Text.Json;
using Vanehour.Models.MixedEffects;
using Vanehour.Models.Regression;
using Vanehour.Models.Survival;

namespace Vanehour.Published.Degradation;

/// <summary>From degradation to a distribution of lives, by pseudo failure times and by a mixed model: Meeker and Escobar 1998, example 13.10; see SOURCE.md beside the data.</summary>
public sealed class GaAsLaserTests
{
    private const double Limit = 10;

    private static readonly DataFile File = DataFile.Open("Degradation/gaas-laser");
    private static readonly double[] Hours = File.Numbers("hours");
    private static readonly double[] Rise = File.Numbers("increase_pct");

    [Fact]
    public void PseudoFailureTimes_AreAsPublished()
    {
        var published = File.Values.GetProperty("published").GetProperty("pseudo_failure_times_h").EnumerateArray().Select(t => t.GetDouble());
        Assert.Equal(published, Lines(withConstant: true).Select(f => Math.Round(Crossing(f))));
    }

    [Theory]
    [InlineData(true, "slope", "pseudo_failure_ols")]
    [InlineData(false, "slope_through_origin", "pseudo_failure_origin")]
    public void EachUnit_IsFittedAsByR(bool withConstant, string slope, string crossing)
    {
        var wanted = File.Values.GetProperty("per_unit").EnumerateArray().ToList();
        var fits = Lines(withConstant).ToList();
        Assert.Equal((15, 15), (wanted.Count, fits.Count));
        Assert.All(wanted.Zip(fits), p =>
        {
            Near(p.First.GetProperty(slope).GetDouble(), p.Second.Coefficients[^1].Estimate, 1e-11);
            Near(p.First.GetProperty(crossing).GetDouble(), Crossing(p.Second), 1e-11);
            if (!withConstant)
            {
                // The json divides by 15: the reading at 0 h, which a line through the origin meets by itself, was not counted.
                Near(p.First.GetProperty("residual_sd_through_origin").GetDouble(), p.Second.ResidualScale * Math.Sqrt(16.0 / 15), 1e-11);
            }
        });
    }

    [Theory]
    [InlineData(true, "pseudo_failure_ols_weibull")]
    [InlineData(false, "pseudo_failure_origin_weibull")]
    public void LivesByPseudoFailures_AreFittedAsBySurvreg(bool withConstant, string name) =>
        IsThatOfSurvreg(name, WeibullFit.Fit([.. Lines(withConstant).Select(f => new Lifetime(0, Crossing(f), true))]));

    [Fact]
    public void CrossingsSeenByFourThousandHours_AreFittedAsBySurvreg()
    {
        var crossings = File.Values.GetProperty("per_unit").EnumerateArray().Select(u => u.GetProperty("interpolated_crossing"));
        IsThatOfSurvreg(
            "interpolated_then_censored_at_4000_weibull",
            WeibullFit.Fit([.. crossings.Select(c => c.ValueKind == JsonValueKind.Null ? new Lifetime(0, 4000, false) : new Lifetime(0, c.GetDouble(), true))]));
    }

    [Fact]
    public void RandomSlope_IsThatOfNlme()
    {
        var fit = LinearMixedModel.Fit(
            new MixedProblem
            {
                Columns = ["percent per 1000 h"],
                Rows = [.. Hours.Select(h => new[] { h / 1000 })],
                Responses = Rise,
                Groups = File.Texts("unit"),
                Intercept = false,
                RandomIntercept = false,
                RandomSlopes = [0],
            },
            MixedCriterion.Ml);
        var wanted = File.Values.GetProperty("random_slope_ml");
        Near(wanted.GetProperty("fixed_slope_per_1000h").GetDouble(), fit.Coefficients[0].Estimate, 1e-10);
        Near(wanted.GetProperty("residual_sd").GetDouble(), fit.ResidualScale, 1e-8);
        Assert.Equal(wanted.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-9);

        // Given with seven digits.
        Assert.Equal(wanted.GetProperty("sd_slope_per_1000h").GetDouble(), fit.RandomScale(0), 1e-7);

        // The summary of an ML fit in nlme enlarges standard errors by sqrt(n/(n-p)); ours are those of the estimated residual variance.
        Near(wanted.GetProperty("se").GetDouble(), fit.Coefficients[0].StandardError * Math.Sqrt(255.0 / 254), 1e-7);
    }

    private static IEnumerable<LinearFit> Lines(bool withConstant) => File.By("unit").Select(u => WeightedLeastSquares.Fit(new LinearProblem
    {
        Columns = ["percent per h"],
        Rows = [.. u.Rows.Select(i => new[] { Hours[i] })],
        Responses = [.. u.Rows.Select(i => Rise[i])],
        Intercept = withConstant,
    }));

    private static double Crossing(LinearFit fit) => (Limit - (fit.Intercept ? fit.Coefficients[0].Estimate : 0)) / fit.Coefficients[^1].Estimate;

    private static void IsThatOfSurvreg(string name, WeibullFit fit)
    {
        // Two iterative fits.
        var wanted = File.Values.GetProperty(name);
        Assert.Equal(WeibullStatus.Fitted, fit.Status);
        Near(wanted.GetProperty("shape").GetDouble(), fit.Shape, 1e-7);
        Near(wanted.GetProperty("eta").GetDouble(), fit.Scale, 1e-7);
        Near(wanted.GetProperty("se_log_eta").GetDouble(), fit.ScaleSe / fit.Scale, 1e-6);
        Near(wanted.GetProperty("se_log_scale").GetDouble(), fit.ShapeSe / fit.Shape, 1e-6);
        Assert.Equal(wanted.GetProperty("loglik_model").GetDouble(), fit.LogLikelihood, 1e-8);
    }

    private static void Near(double wanted, double actual, double relative) => Assert.Equal(wanted, actual, relative * Math.Abs(wanted));
}
