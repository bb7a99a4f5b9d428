using System.Text.Json;
using Vanehour.Models.Survival;

namespace Vanehour.Published.Survival;

/// <summary>Kaplan-Meier and Nelson-Aalen against published values and R's survfit; see SOURCE.md beside the data.</summary>
public sealed class KaplanMeierTests
{
    private const double Relative = 1e-9;

    [Theory]
    [InlineData("leukemia-6mp")]
    [InlineData("veteran")]
    [InlineData("ovarian")]
    [InlineData("lung")]
    [InlineData("kidney")]
    [InlineData("ball-bearing")]
    [InlineData("bearing-cage")]
    [InlineData("diesel-fan")]
    public void EveryStep_IsThatOfSurvfit(string name)
    {
        var file = LifeFile.Open(name);
        var checkedSteps = 0;
        foreach (var stratum in file.Values.GetProperty("kaplan_meier").EnumerateArray())
        {
            var of = stratum.GetProperty("stratum").GetString()!.Split('=');
            var curve = KaplanMeier.Estimate(of.Length == 2 ? file.Lifetimes(of[0], of[1].Trim()) : file.Lifetimes());
            Assert.Equal((stratum.GetProperty("n").GetInt32(), stratum.GetProperty("events").GetInt32()), (curve.Units, curve.Failures));
            var table = stratum.GetProperty("table").EnumerateArray().ToList();
            Assert.Equal(table.Count, curve.Steps.Length);
            foreach (var (wanted, step) in table.Zip(curve.Steps))
            {
                Assert.Equal(Of(wanted, "time"), step.Age);
                Assert.Equal((Of(wanted, "n_risk"), Of(wanted, "n_event")), (step.AtRisk, step.Failures));
                Near(Of(wanted, "surv")!.Value, step.Survival);
                Near(Of(wanted, "nelson_aalen")!.Value, step.CumulativeHazard);
                Near(Of(wanted, "se_nelson_aalen")!.Value, step.CumulativeHazardSe);
                if (step.Survival > 0)
                {
                    Near(Of(wanted, "se_greenwood")!.Value, step.SurvivalSe!.Value);
                    Near(Of(wanted, "lower95_loglog")!.Value, step.Low!.Value);
                    Near(Of(wanted, "upper95_loglog")!.Value, step.High!.Value);
                }
                else
                {
                    Assert.Null(step.Low);
                }

                checkedSteps++;
            }

            double?[] quartiles = [.. stratum.GetProperty("quartiles_25_50_75").EnumerateArray().Select(Number)];
            Assert.Equal(quartiles, [curve.Quantile(0.25).Mid, curve.Quantile(0.5).Mid, curve.Quantile(0.75).Mid]);
        }

        Assert.True(checkedSteps >= 6);
    }

    [Fact]
    public void Leukaemia_IsAsPublished()
    {
        var file = LifeFile.Open("leukemia-6mp");
        var published = file.Values.GetProperty("published");
        var treated = KaplanMeier.Estimate(file.Lifetimes("treat", "6-MP"));
        Assert.Equal(published.GetProperty("km_6mp").GetProperty("time").EnumerateArray().Select(t => t.GetDouble()), treated.Steps.Select(s => s.Age));
        Assert.Equal(published.GetProperty("km_6mp").GetProperty("surv").EnumerateArray().Select(s => s.GetDouble()), treated.Steps.Select(s => Math.Round(s.Survival, 3)));
        Assert.Equal(23, treated.Quantile(0.5).Mid);
        Assert.Equal(8, KaplanMeier.Estimate(file.Lifetimes("treat", "control")).Quantile(0.5).Mid);

        // The upper limit of the median is not reached: the curve's own upper limit stays above one half.
        Assert.Null(treated.Quantile(0.5).High);
    }

    [Theory]
    [InlineData("channing-left-truncated", "entry", "exit", "status")]
    [InlineData("heart-startstop", "start", "stop", "event")]
    public void LateEntry_IsThatOfSurvfit(string name, string entry, string exit, string status)
    {
        var file = LifeFile.Open(name);
        foreach (var stratum in file.Values.GetProperty("kaplan_meier_delayed_entry").EnumerateArray().GroupBy(r => r.GetProperty("stratum").GetString()!))
        {
            var of = stratum.Key.Split('=');
            var curve = KaplanMeier.Estimate(file.Lifetimes(of[0], of[1], entry, exit, status));
            Assert.Equal(stratum.Count(), curve.Steps.Length);
            foreach (var (wanted, step) in stratum.Zip(curve.Steps))
            {
                Assert.Equal((Of(wanted, "time"), Of(wanted, "n_risk"), Of(wanted, "n_event")), (step.Age, step.AtRisk, step.Failures));
                Near(Of(wanted, "surv")!.Value, step.Survival);
                if (wanted.TryGetProperty("cumhaz_nelson_aalen", out var hazard))
                {
                    Near(hazard.GetDouble(), step.CumulativeHazard);
                }
            }
        }
    }

    [Theory]
    [InlineData("leukemia-6mp", "treat", 16.79)]
    [InlineData("veteran", "celltype", null)]
    [InlineData("ovarian", "rx", null)]
    [InlineData("lung", "sex", null)]
    [InlineData("kidney", "sex", null)]
    public void LogRank_IsThatOfSurvdiff(string name, string column, double? published)
    {
        var file = LifeFile.Open(name);
        var wanted = file.Values.GetProperty("logrank");
        var groups = wanted.GetProperty("groups").EnumerateArray().Select(g => file.Lifetimes(column, g.GetString()!.Split('=')[1].Trim())).ToList();
        var test = LogRank.Test(groups);
        Assert.Equal(wanted.GetProperty("observed").EnumerateArray().Select(o => o.GetInt32()), test.Observed);
        Assert.All(wanted.GetProperty("expected").EnumerateArray().Zip(test.Expected), p => Near(p.First.GetDouble(), p.Second));
        Near(wanted.GetProperty("chisq").GetDouble(), test.ChiSquare);
        Assert.Equal(wanted.GetProperty("df").GetInt32(), test.DegreesOfFreedom);
        Near(wanted.GetProperty("p").GetDouble(), test.P!.Value);
        if (published is { } printed)
        {
            Assert.Equal(printed, Math.Round(test.ChiSquare, 2));
        }
    }

    private static double? Of(JsonElement row, string name) => Number(row.GetProperty(name));

    private static double? Number(JsonElement value) => value.ValueKind == JsonValueKind.Null ? null : value.GetDouble();

    private static void Near(double wanted, double actual) => Assert.Equal(wanted, actual, Math.Max(1e-12, Relative * Math.Abs(wanted)));
}
