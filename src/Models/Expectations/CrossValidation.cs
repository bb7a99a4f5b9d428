using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>Tries every candidate on runs held out, as the analysis would judge them: with a level that is the pump's own.</summary>
internal static class CrossValidation
{
    // As the fit within pumps does: so many runs' worth of the other pumps' noise goes into each pump's own.
    private const double SharedNoiseRuns = 5;

    /// <summary>The held-out runs by candidate.</summary>
    public static Dictionary<CandidateKind, List<HeldOutRun>> Run(FleetRows fleet, IEnumerable<HeldOutFold> folds, int seed, CancellationToken cancellationToken)
    {
        var runs = Enum.GetValues<CandidateKind>().ToDictionary(k => k, _ => new List<HeldOutRun>());
        foreach (var fold in folds)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var set = TrainingSet.Of(fleet, fold.Training);
            if (set.Rows.Count == 0)
            {
                continue;
            }

            foreach (var (kind, predicted) in runs)
            {
                Predict(fleet, Populations.Learn(kind, set, seed), fold, set, predicted);
            }
        }

        return runs;
    }

    private static void Predict(FleetRows fleet, IPopulation population, HeldOutFold fold, TrainingSet set, List<HeldOutRun> predicted)
    {
        // A pump model that the training runs lack cannot be compared fairly.
        var pumps = fold.Pumps.Where(p => set.Slopes.ContainsKey(fleet.ModelOf[p.Later[0].Pump])).Select(pump =>
        {
            var level = Robust.WeightedMedian(pump.Reference.Select(o => (Left(o), o.Weight)));
            var noise = Robust.SpreadAboutZero(pump.Earlier.Select(o => Math.Sqrt(o.Weight) * (Left(o) - level)));
            return (Pump: pump, Level: level, Noise: noise);
        }).ToList();
        if (pumps.Count == 0)
        {
            return;
        }

        var usual = Robust.Median(pumps.Select(p => p.Noise));
        foreach (var (pump, level, noise) in pumps)
        {
            var n = pump.Earlier.Count;
            var variance = ((noise * noise * n) + (SharedNoiseRuns * usual * usual)) / (n + SharedNoiseRuns);
            var levelVariance = variance * Math.PI / 2 / pump.Reference.Sum(o => o.Weight);
            foreach (var o in pump.Later)
            {
                var left = Left(o);
                var sd = Math.Sqrt((variance / o.Weight) + levelVariance);
                predicted.Add(new HeldOutRun(o, left - level, left, sd > 0 ? sd : double.Epsilon));
            }
        }

        double Left(IndicatorObservation o) => o.Seen - population.Predict(fleet.ModelOf[o.Pump], o.Predictors);
    }
}
