using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>Tries every candidate on runs held out, as the analysis would judge them: with a level that is the pump's own.</summary>
internal static class CrossValidation
{
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
                Predict(fleet, Populations.Learn(kind, set, seed, once: true), fold, set, predicted);
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
            return (Pump: pump, Level: level, Noise: PumpNoise.Of([.. pump.Earlier.Select(o => (Left(o), o.Weight))]));
        }).ToList();
        if (pumps.Count == 0)
        {
            return;
        }

        var usual = pumps.Sum(p => p.Noise.Squares) / Math.Max(pumps.Sum(p => p.Noise.Kept.Count - 1), 1);
        foreach (var (pump, level, noise) in pumps)
        {
            var variance = noise.Variance(usual);
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
