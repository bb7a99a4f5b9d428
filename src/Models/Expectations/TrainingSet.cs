using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>
/// Runs to learn from, with what least squares within pumps makes of them: slopes by pump model and each pump's level. The other candidates learn from what is left when a pump's level is replaced by its pump model's, so that they learn conditions and not trucks.
/// </summary>
internal sealed class TrainingSet
{
    private TrainingSet(FleetRows fleet, double[] means)
    {
        Fleet = fleet;
        Means = means;
    }

    public FleetRows Fleet { get; }

    /// <summary>What stands for a condition that was not measured.</summary>
    public double[] Means { get; }

    /// <summary>By pump model, one for each linear predictor.</summary>
    public Dictionary<int, double[]> Slopes { get; } = [];

    /// <summary>By pump model: the mean of its pumps' levels where all conditions are 0.</summary>
    public Dictionary<int, double> Levels { get; } = [];

    /// <summary>By pump model: the mean of its pumps' medians.</summary>
    public Dictionary<int, double> PlainLevels { get; } = [];

    /// <summary>The runs: pump model, conditions, the response at the pump model's level, weight over the pump's noise variance.</summary>
    public List<(int Model, double[] X, double Y, double Weight)> Rows { get; } = [];

    /// <summary>Prepares runs; NaN among their conditions is filled with the mean over these runs.</summary>
    public static TrainingSet Of(FleetRows fleet, IReadOnlyList<IndicatorObservation> observations)
    {
        var set = new TrainingSet(fleet, FleetRows.MeansOf(observations, fleet.Predictors.Length));
        foreach (var ofModel in observations.GroupBy(o => fleet.ModelOf[o.Pump]).OrderBy(g => g.Key))
        {
            set.Add(ofModel.Key, [.. ofModel]);
        }

        return set;
    }

    private void Add(int model, List<IndicatorObservation> observations)
    {
        var slopes = SlopesOf(ref observations);
        Slopes[model] = slopes;
        var rows = observations.ConvertAll(o => (o.Pump, X: FleetRows.Filled(o.Predictors, Means), o.Seen, o.Weight));
        var pumps = rows.GroupBy(r => r.Pump).Select(g =>
        {
            var level = Robust.WeightedMedian(g.Select(r => (r.Seen - Dot(slopes, r.X), r.Weight)));
            var spread = Robust.SpreadAboutZero(g.Select(r => Math.Sqrt(r.Weight) * (r.Seen - level - Dot(slopes, r.X))));
            return (Rows: g.ToList(), Level: level, Plain: Robust.WeightedMedian(g.Select(r => (r.Seen, r.Weight))), Spread: spread);
        }).ToList();
        Levels[model] = pumps.Average(p => p.Level);
        PlainLevels[model] = pumps.Average(p => p.Plain);
        var usual = Robust.Median(pumps.Select(p => p.Spread));
        foreach (var pump in pumps)
        {
            // A pump measured coarsely counts less, as in the least squares; half of the usual spread keeps one that hardly varies from ruling.
            var spread = Math.Max(Math.Max(pump.Spread, usual / 2), double.Epsilon);
            foreach (var r in pump.Rows)
            {
                Rows.Add((model, r.X, r.Seen - pump.Level + Levels[model], r.Weight / (spread * spread)));
            }
        }
    }

    public static double Dot(double[] slopes, double[] x)
    {
        var sum = 0.0;
        for (var j = 0; j < slopes.Length; j++)
        {
            sum += slopes[j] * x[j];
        }

        return sum;
    }

    // Predictors that do not vary inside pumps are dropped: their slope is 0. Runs in a lasting shift, told by these runs alone, are left out, as the
    // least squares that judges does.
    private double[] SlopesOf(ref List<IndicatorObservation> observations)
    {
        var slopes = new double[Fleet.LinearWidth];
        var isCleared = false;
        var kept = Enumerable.Range(0, Fleet.LinearWidth).ToList();
        while (true)
        {
            var used = observations.ConvertAll(o =>
            {
                var x = FleetRows.Filled(o.Predictors, Means);
                return new IndicatorObservation(o.Pump, o.Run, o.Seen, o.Weight, [.. kept.Select(j => x[j])]);
            });
            var fit = WithinPumpFit.Learn(used, [.. kept.Select(j => Fleet.Predictors[j].Name)]);
            if (fit.OffendingColumn is { } column)
            {
                kept.RemoveAt(column);
                continue;
            }

            if (!isCleared && fit is { Status: FitStatus.Converged, Scale: > 0 })
            {
                isCleared = true;
                JudgementWriter.MarkShifted(used, Judging.Of(fit, used, Fleet.Pumps, 0, Fleet.Expectation), Fleet.Definition, Fleet.Expectation.Shift);
                if (used.Exists(o => o.IsShifted))
                {
                    observations = [.. observations.Where((_, i) => !used[i].IsShifted)];
                    continue;
                }
            }

            for (var j = 0; j < fit.Slopes.Length; j++)
            {
                slopes[kept[j]] = fit.Slopes[j].Estimate;
            }

            return slopes;
        }
    }
}
