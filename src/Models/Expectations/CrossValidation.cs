using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>Tries every candidate on runs held out, as the analysis would judge them: with a level that is the pump's own.</summary>
internal static class CrossValidation
{
    // As the fit within pumps does: so many runs' worth of the other pumps' noise goes into each pump's own.
    private const double SharedNoiseRuns = 5;
    private const double OutlierSd = 4;

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

    // Weighted squares about the mean, outliers left out: as the fits that judge have it, so that a band set by one suits the other.
    private static (double Squares, int N) Noise(List<(double Left, double Weight)> left)
    {
        var median = Robust.WeightedMedian(left);
        var spread = Robust.SpreadAboutZero(left.Select(r => Math.Sqrt(r.Weight) * (r.Left - median)));
        var kept = left.Where(r => Math.Sqrt(r.Weight) * Math.Abs(r.Left - median) <= OutlierSd * spread).ToList();
        var mean = kept.Sum(r => r.Weight * r.Left) / kept.Sum(r => r.Weight);
        return (kept.Sum(r => r.Weight * (r.Left - mean) * (r.Left - mean)), kept.Count);
    }

    private static void Predict(FleetRows fleet, IPopulation population, HeldOutFold fold, TrainingSet set, List<HeldOutRun> predicted)
    {
        // A pump model that the training runs lack cannot be compared fairly.
        var pumps = fold.Pumps.Where(p => set.Slopes.ContainsKey(fleet.ModelOf[p.Later[0].Pump])).Select(pump =>
        {
            var level = Robust.WeightedMedian(pump.Reference.Select(o => (Left(o), o.Weight)));
            var (squares, n) = Noise([.. pump.Earlier.Select(o => (Left(o), o.Weight))]);
            return (Pump: pump, Level: level, Squares: squares, N: n);
        }).ToList();
        if (pumps.Count == 0)
        {
            return;
        }

        var usual = pumps.Sum(p => p.Squares) / Math.Max(pumps.Sum(p => p.N - 1), 1);
        foreach (var (pump, level, squares, n) in pumps)
        {
            var variance = (squares + (SharedNoiseRuns * usual)) / (n - 1 + SharedNoiseRuns);
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
