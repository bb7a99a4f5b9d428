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
    // Degrees of freedom that must be left once the slopes on the load are learned: ten units a slope are the usual least, twice that of our own.
    private const int FewestLeft = 20;

    // A model's pumps are not taken to be more alike than a quarter of what their mean level says; of our own.
    private const double LeastMultiplier = 0.25;

    private static readonly Load[] Loads =
    [
        new("mean vacuum", v => $"{v:F0} kPa", p => RunMeans.ByHours(p.Runs, r => r.VacuumMeanKPa)),
        new("mean speed", v => $"{v:0 %} of rated", p => RunMeans.ByHours(p.Runs, r => r.SpeedMeanRpm) / p.Model.RatedSpeed.Rpm),
    ];

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
        var measured = Measured(used, pumps);
        var why = measured.Count == 0 ? "their load was not measured on every pump" : "there are too few pumps to learn what the load does";
        if (measured.Count > 0 && used.Count - known.Count - measured.Count >= FewestLeft)
        {
            if (InTwoRounds([.. used.Select((_, i) => measured.Select(m => m.ByPump[i] - m.ByPump.Average()).ToArray())]) is { } adjusted)
            {
                var load = string.Join(" and ", measured.Select(m => $"{m.Load.Name} of {m.Load.Said(m.ByPump.Average())}"));
                return (adjusted, $"Wear: at the fleet's {load}, by a regression over {used.Count} pumps.");
            }

            why = "the pumps' loads are too much alike to learn what they do";
        }

        return (InTwoRounds(null)!, $"Wear: as it is, not brought to one load: {why}.");

        // The spread from pump to pump is a share of the level, which the first round tells.
        RandomEffects? InTwoRounds(IReadOnlyList<IReadOnlyList<double>>? covariates)
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

    // A condition that some pump was never measured at is left out: what stands in for it would be a guess.
    private static List<(Load Load, double[] ByPump)> Measured(List<WearForecast> used, IReadOnlyList<PumpHistory> pumps)
    {
        var current = used.ConvertAll(f => pumps.FirstOrDefault(p => p.IsCurrent && p.Truck.Id == f.Truck && p.Life.PumpSerial == f.PumpSerial));
        return
        [
            .. Loads.Select(l => (l, ByPump: current.ConvertAll(p => p is null ? null : l.Of(p))))
                .Where(l => l.ByPump.TrueForAll(v => v is { } x && double.IsFinite(x)))
                .Select(l => (l.l, l.ByPump.Select(v => v!.Value).ToArray())),
        ];
    }

    private sealed record Load(string Name, Func<double, FormattableString> Words, Func<PumpHistory, double?> Of)
    {
        public string Said(double value) => FormattableString.Invariant(Words(value));
    }
}
