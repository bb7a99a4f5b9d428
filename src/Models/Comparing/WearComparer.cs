using System.Globalization;
using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Regression;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Comparing;

/// <summary>
/// Compares pump models by how fast their vanes wear: the forecasts' rates, each with its own error, with one relative spread from pump to pump, brought to the fleet's mean
/// vacuum and speed where there are pumps enough to learn what those do.
/// </summary>
/// <param name="options">How.</param>
public sealed class WearComparer(LifeOptions options)
{
    // Degrees of freedom that must be left once the slopes on the load are learned; of our own.
    private const int FewestLeft = 10;

    // A model's pumps are not taken to be more alike than a quarter of what their mean level says; of our own.
    private const double LeastMultiplier = 0.25;

    private static readonly string[] Loads = ["mean vacuum", "mean speed over rated speed"];

    /// <summary>Compares.</summary>
    /// <param name="pumpModels">The models, in order of name.</param>
    /// <param name="forecasts">The forecasts, at most one for each truck; what has no rate, or one that is no number, takes no part.</param>
    /// <param name="pumps">The pumps on the trucks, with their runs.</param>
    public MeasureComparison Compare(IReadOnlyList<string> pumpModels, IEnumerable<WearForecast> forecasts, IReadOnlyList<PumpHistory> pumps)
    {
        ArgumentNullException.ThrowIfNull(pumpModels);
        ArgumentNullException.ThrowIfNull(forecasts);
        ArgumentNullException.ThrowIfNull(pumps);
        var used = forecasts
            .Where(f => pumpModels.Contains(f.PumpModel) && f.WearPer1000H is { } rate && double.IsFinite(rate) && f.WearPer1000HSe is > 0 and < double.PositiveInfinity)
            .OrderBy(f => f.Truck, StringComparer.Ordinal)
            .ToList();
        var known = pumpModels.Where(m => used.Exists(f => f.PumpModel == m)).ToList();
        if (used.Count == 0)
        {
            return new MeasureVerdicts(ComparedMeasure.Wear, pumpModels, [], Nothing(), false, options).Compare(new Dictionary<string, string>(), []);
        }

        var (fit, said) = Fit(used, known, pumps);
        return new MeasureVerdicts(ComparedMeasure.Wear, pumpModels, known, fit.Groups, false, options).Compare(new Dictionary<string, string>(), [said]);
    }

    private static GroupMeans Nothing() => new() { Means = [], Counts = [], Covariance = [], DegreesOfFreedom = 0, UnitSd = double.NaN };

    private static (RandomEffects Fit, string Said) Fit(List<WearForecast> used, List<string> known, IReadOnlyList<PumpHistory> pumps)
    {
        double[] values = [.. used.Select(f => f.WearPer1000H!.Value)];
        double[] errors = [.. used.Select(f => f.WearPer1000HSe!.Value)];
        int[] groups = [.. used.Select(f => known.IndexOf(f.PumpModel))];
        var loads = used.ConvertAll(f => LoadOf(f, pumps));
        var left = used.Count - known.Count - Loads.Length;
        var why = "there are too few pumps to learn what the load does";
        if (left >= FewestLeft)
        {
            if (loads.TrueForAll(l => l is not null))
            {
                var centred = Centred(loads);
                if (InTwoRounds(centred) is { } adjusted)
                {
                    return (adjusted, string.Create(
                        CultureInfo.InvariantCulture,
                        $"Wear: at the fleet's mean vacuum of {loads.Average(l => l![0]):F0} kPa and mean speed of {loads.Average(l => l![1]):0 %} of rated, by a regression over {used.Count} pumps."));
                }

                why = "the pumps' loads are too much alike to learn what they do";
            }
            else
            {
                why = "the load of some pumps was not measured";
            }
        }

        return (InTwoRounds(null)!, $"Wear: as it is, not brought to one load: {why}.");

        // The spread from pump to pump is a share of the level, which the first round tells.
        RandomEffects? InTwoRounds(List<double[]>? covariates)
        {
            if (RandomEffects.Fit(values, errors, groups, known.Count, covariates) is not { } first)
            {
                return null;
            }

            var mean = groups.Average(g => first.Groups.Means[g]);
            return mean > 0
                ? RandomEffects.Fit(values, errors, groups, known.Count, covariates, [.. groups.Select(g => Math.Max(LeastMultiplier, first.Groups.Means[g] / mean))])
                : first;
        }
    }

    private static double[]? LoadOf(WearForecast forecast, IReadOnlyList<PumpHistory> pumps)
    {
        if (pumps.FirstOrDefault(p => p.IsCurrent && p.Truck.Id == forecast.Truck && p.Life.PumpSerial == forecast.PumpSerial) is not { } pump)
        {
            return null;
        }

        var vacuum = RunMeans.ByHours(pump.Runs, r => r.VacuumMeanKPa);
        var speed = RunMeans.ByHours(pump.Runs, r => r.SpeedMeanRpm) / pump.Model.RatedSpeed.Rpm;
        return vacuum is { } v && speed is { } s && double.IsFinite(s) ? [v, s] : null;
    }

    private static List<double[]> Centred(List<double[]?> loads)
    {
        var means = Enumerable.Range(0, Loads.Length).Select(j => loads.Average(l => l![j])).ToArray();
        return loads.ConvertAll(l => l!.Select((x, j) => x - means[j]).ToArray());
    }
}
