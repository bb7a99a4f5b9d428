using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

/// <summary>Runs beside what is expected of them by their conditions and each pump's level.</summary>
/// <param name="Runs">The runs that can be judged.</param>
/// <param name="Rho">Correlation of neighbouring runs' noise, 0 and below 1.</param>
/// <param name="HeldToPeers">Sentences on pumps that are judged by their peers.</param>
/// <param name="Gaps">By pump that can be judged: how its level stands to its own past and to its peers.</param>
internal sealed record Judging(
    Dictionary<IndicatorObservation, JudgedRun> Runs, double Rho, List<string> HeldToPeers, Dictionary<int, LevelGap> Gaps)
{
    public static Judging Nothing => new([], 0, [], []);

    // A pump further from its peers than this many spreads is not taken at its own word.
    private const double PeerLimitSd = 3;

    /// <summary>Reads each pump's level, weighs it against its peers' and judges every run by it.</summary>
    /// <param name="fit">What conditions do.</param>
    /// <param name="observations">The runs, those of a pump in order of time.</param>
    /// <param name="pumps">The pumps by position.</param>
    /// <param name="rho">Correlation of neighbouring runs as far as known.</param>
    /// <param name="options">How.</param>
    public static Judging Of(
        IConditionFit fit, List<IndicatorObservation> observations, IReadOnlyList<PumpHistory> pumps, double rho, ExpectationOptions options)
    {
        var centre = Centre(observations, fit.Width);
        var own = new Dictionary<int, (PumpLevel Level, double HoursH)>();
        foreach (var ofPump in observations.GroupBy(o => o.Pump))
        {
            var beforeH = 0.0;
            var reference = new List<IndicatorObservation>();
            foreach (var o in ofPump.TakeWhile(_ => beforeH < options.OwnReferenceH))
            {
                reference.Add(o);
                beforeH += o.Run.HoursH;
            }

            own[ofPump.Key] = (PumpLevel.FromOwnRuns(reference, fit, (1 + rho) / (1 - rho)), beforeH);
        }

        var held = new List<string>();
        var levels = new Dictionary<int, PumpLevel>();
        var gaps = new Dictionary<int, LevelGap>();
        foreach (var (pump, (level, hoursH)) in own)
        {
            double[] peers =
            [
                .. own.Where(o => pumps[o.Key].Truck.Id != pumps[pump].Truck.Id && o.Value.HoursH >= options.YoungestOwnH)
                    .Select(o => o.Value.Level.Estimate + fit.Explained(o.Key, centre, o.Value.Level.At)),
            ];
            if (peers.Length >= options.FewestPeers)
            {
                var toCentre = fit.Explained(pump, centre, level.At);
                var reconciled = Reconcile(level, peers, toCentre, pumps[pump].Name, held, options);
                levels[pump] = reconciled;
                var median = Robust.Median(peers);
                gaps[pump] = new LevelGap(
                    reconciled.Estimate - level.Estimate,
                    level.StandardError,
                    reconciled.Estimate + toCentre - median,
                    PeerSpread(peers, median, options) * Math.Sqrt(Math.PI / 2 / peers.Length));
            }
            else if (hoursH >= options.YoungestOwnH)
            {
                levels[pump] = level;
                gaps[pump] = new LevelGap(0, level.StandardError, null, 0);
            }
        }

        var judged = observations.Where(o => levels.ContainsKey(o.Pump)).ToDictionary(o => o, o =>
        {
            var level = levels[o.Pump];
            return new JudgedRun(
                o.Run.Start,
                o.Run.End,
                o.Seen,
                level.Estimate + fit.Explained(o.Pump, o.Predictors, level.At),
                fit.ScaleOf(o.Pump) / Math.Sqrt(o.Weight),
                Math.Sqrt((level.StandardError * level.StandardError) + fit.ExplainedVariance(o.Pump, o.Predictors, level.At)));
        });
        return new Judging(judged, Correlation(observations, judged), held, gaps);
    }

    // The pump's own level weighed against its peers': median and spread of theirs. The spread has a floor, because three or four levels that
    // happen to lie close say little about the next pump.
    private static PumpLevel Reconcile(
        PumpLevel own, double[] peers, double toCentre, string name, List<string> held, ExpectationOptions options)
    {
        var median = Robust.Median(peers);
        var spread = PeerSpread(peers, median, options);
        var priorVariance = spread * spread * (1 + (Math.PI / 2 / peers.Length));
        var ownVariance = own.StandardError * own.StandardError;
        var share = priorVariance / (priorVariance + ownVariance);
        var level = median + (share * (own.Estimate + toCentre - median));
        var limited = Math.Clamp(level, median - (PeerLimitSd * spread), median + (PeerLimitSd * spread));
        if (limited != level)
        {
            held.Add($"{name} lies outside its peers from its first hours on; it is judged by its peers, not by its own past.");
        }

        return new PumpLevel(limited - toCentre, Math.Sqrt(share * ownVariance), own.At);
    }

    private static double PeerSpread(double[] peers, double median, ExpectationOptions options) =>
        Math.Max(Robust.Spread(peers), options.LeastPumpSpread * Math.Abs(median));

    private static double[] Centre(List<IndicatorObservation> observations, int p)
    {
        var total = observations.Sum(o => o.Weight);
        return [.. Enumerable.Range(0, p).Select(j => observations.Sum(o => o.Weight * o.Predictors[j]) / total)];
    }

    private static double Correlation(List<IndicatorObservation> observations, Dictionary<IndicatorObservation, JudgedRun> judged)
    {
        double products = 0, squares = 0;
        foreach (var ofPump in observations.Where(o => !o.IsShifted && judged.ContainsKey(o)).GroupBy(o => o.Pump))
        {
            var z = ofPump.Select(o => Math.Clamp(judged[o].Deviation / judged[o].NoiseSd, -3, 3)).ToArray();
            var mean = z.Average();
            for (var i = 0; i < z.Length; i++)
            {
                squares += (z[i] - mean) * (z[i] - mean);
                products += i > 0 ? (z[i] - mean) * (z[i - 1] - mean) : 0;
            }
        }

        // Above 0.8 the long-run factor explodes; a pump model whose noise wanders that much needs another predictor, not a wider limit.
        return squares > 0 ? Math.Clamp(products / squares, 0, 0.8) : 0;
    }
}
