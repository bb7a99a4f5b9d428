using System.Collections.Immutable;
using System.Globalization;

namespace Vanehour.Models.Expectations;

/// <summary>
/// Scores and choice. The simplest candidate is chosen whose error is within one standard error of the best, or not worse by a gain that matters.
/// The standard error is that of the difference over trucks: a truck that is hard to predict is so for every candidate.
/// </summary>
/// <remarks>
/// One-standard-error rule: [CART] L. Breiman and others, Classification and Regression Trees, 1984, section 3.4.3, from memory; paired by truck is ours.
/// </remarks>
internal sealed record Comparison(ImmutableArray<CandidateScore> Scores, CandidateKind Chosen, string Reason, int Trucks, int Runs)
{
    private sealed record OfTruck(string Truck, double Absolute, double Square, double Peers);

    /// <summary>Compares; null with fewer than three trucks.</summary>
    public static Comparison? Of(FleetRows fleet, Dictionary<CandidateKind, List<HeldOutRun>> held, ChoiceOptions options)
    {
        var byKind = held.OrderBy(h => h.Key).ToDictionary(h => h.Key, h => ByTruck(fleet, h.Value));
        var trucks = byKind.Values.First().Count;
        if (trucks < Math.Min(3, options.FewestTrucks))
        {
            return null;
        }

        var best = byKind.MinBy(k => k.Value.Average(t => t.Absolute)).Key;
        ImmutableArray<CandidateScore> scores = [.. byKind.Select(k => ScoreOf(k.Key, k.Value, byKind[best]))];
        var lowest = scores.First(s => s.Kind == best);
        var chosen = scores.First(s => s.BehindBest <= Math.Max(s.BehindBestSe, options.LeastGain * lowest.MeanAbsoluteError));
        var reason = chosen.Kind == best
            ? $"{best} has the lowest error on runs held out, and no simpler candidate comes near it."
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{best} has the lowest error on runs held out; {chosen.Kind} is simpler and only {chosen.BehindBest / lowest.MeanAbsoluteError:P1} behind it (standard error {chosen.BehindBestSe / lowest.MeanAbsoluteError:P1}).");
        return new Comparison(scores, chosen.Kind, reason, trucks, held[best].Count);
    }

    private static List<OfTruck> ByTruck(FleetRows fleet, List<HeldOutRun> held) =>
    [
        .. held.GroupBy(h => fleet.TruckOf(h.Observation), StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g =>
        {
            var hours = g.Sum(h => h.Observation.Run.HoursH);
            return new OfTruck(g.Key, Mean(h => Math.Abs(h.Residual)), Mean(h => h.Residual * h.Residual), Mean(h => Math.Abs(h.PeersResidual)));

            double Mean(Func<HeldOutRun, double> of) => g.Sum(h => h.Observation.Run.HoursH * of(h)) / hours;
        }),
    ];

    private static CandidateScore ScoreOf(CandidateKind kind, List<OfTruck> trucks, List<OfTruck> best)
    {
        var (mae, maeSe) = MeanAndSe([.. trucks.Select(t => t.Absolute)]);
        var (rmse, rmseSe) = MeanAndSe([.. trucks.Select(t => Math.Sqrt(t.Square))]);
        var (behind, behindSe) = MeanAndSe([.. trucks.Zip(best, (t, b) => t.Absolute - b.Absolute)]);
        return new CandidateScore
        {
            Kind = kind,
            MeanAbsoluteError = mae,
            MeanAbsoluteErrorSe = maeSe,
            RootMeanSquareError = rmse,
            RootMeanSquareErrorSe = rmseSe,
            AgainstPeersError = trucks.Average(t => t.Peers),
            BehindBest = behind,
            BehindBestSe = behindSe,
        };
    }

    /// <summary>Mean and its standard error.</summary>
    public static (double Mean, double Se) MeanAndSe(double[] values)
    {
        var mean = values.Average();
        return (mean, Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1) / values.Length));
    }
}
