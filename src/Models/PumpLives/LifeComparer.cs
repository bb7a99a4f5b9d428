using System.Globalization;
using MathNet.Numerics.Distributions;
using Vanehour.Models.Survival;

namespace Vanehour.Models.PumpLives;

/// <summary>
/// Compares pump models by how long they last: log-rank tests, Holm's correction over the pairs (Holm 1979), and how many failures it takes to see a difference
/// (Schoenfeld 1981, with the hazard ratio that a Weibull shape gives a ratio of lives).
/// </summary>
/// <param name="options">How.</param>
public sealed class LifeComparer(LifeOptions options)
{
    /// <summary>Compares.</summary>
    public LifeComparison Of(LifeTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var models = new LifeStudy(options).Of(table);
        var lives = table.Lives.GroupBy(l => l.PumpModel, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => (IReadOnlyList<Lifetime>)[.. g.Select(l => l.Lifetime)], StringComparer.Ordinal);
        var known = models.Where(m => lives.ContainsKey(m.PumpModel)).ToList();
        var pairs = known.SelectMany((a, i) => known.Skip(i + 1).Select(b => (A: a, B: b))).ToList();

        // By its chi-square one failure can already be a difference; it is not.
        var tests = pairs.ConvertAll(p => p.A.Failures + p.B.Failures < options.FewestFailures ? null : LogRank.Test([lives[p.A.PumpModel], lives[p.B.PumpModel]]).P);
        var adjusted = Holm(tests);
        return new LifeComparison(
            models,
            known.Count < 2 || known.Sum(m => m.Failures) < options.FewestFailures ? null : LogRank.Test([.. known.Select(m => lives[m.PumpModel])]),
            [.. pairs.Select((p, i) => Pair(p.A, p.B, lives[p.A.PumpModel], lives[p.B.PumpModel], adjusted[i], pairs.Count))]);
    }

    /// <summary>Holm's step-down correction of several tests; those without a p take no part.</summary>
    public static double?[] Holm(IReadOnlyList<double?> p)
    {
        ArgumentNullException.ThrowIfNull(p);
        var adjusted = new double?[p.Count];
        var order = Enumerable.Range(0, p.Count).Where(i => p[i] is not null).OrderBy(i => p[i]).ToList();
        var highest = 0.0;
        for (var rank = 0; rank < order.Count; rank++)
        {
            highest = Math.Max(highest, Math.Min(1, (order.Count - rank) * p[order[rank]]!.Value));
            adjusted[order[rank]] = highest;
        }

        return adjusted;
    }

    private LifePair Pair(ModelLife a, ModelLife b, IReadOnlyList<Lifetime> livesA, IReadOnlyList<Lifetime> livesB, double? p, int pairs)
    {
        var failures = a.Failures + b.Failures;
        var needed = FailuresNeeded(livesA, livesB, pairs);
        var names = $"{a.PumpModel} and {b.PumpModel}";
        if (p < options.Significance)
        {
            return new LifePair(a.PumpModel, b.PumpModel, p, PairVerdict.Differs, needed, LivesNeeded(), string.Create(
                CultureInfo.InvariantCulture,
                $"{names} differ: median life {Hours(a)} against {Hours(b)} (p {p:G2}{(pairs > 1 ? $", corrected for {pairs} pairs" : "")})."));
        }

        var ratio = string.Create(CultureInfo.InvariantCulture, $"lives that differ by a factor of {options.LifeRatio:0.##}");
        if (p is not null && failures >= needed)
        {
            return new LifePair(a.PumpModel, b.PumpModel, p, PairVerdict.NoEvidence, needed, LivesNeeded(), string.Create(
                CultureInfo.InvariantCulture,
                $"{names}: no evidence of a difference (p {p:G2}); {ratio} would have shown with a chance of {options.Power:0 %} or more."));
        }

        var takes = needed is null
            ? "how many it takes cannot be said before more have failed"
            : string.Create(CultureInfo.InvariantCulture, $"to see {ratio} it takes about {needed} failures of both together{(LivesNeeded() is { } lives ? $", about {lives} lives at the share that has failed so far" : "")}");
        return new LifePair(a.PumpModel, b.PumpModel, p, PairVerdict.TooFewLives, needed, LivesNeeded(), string.Create(
            CultureInfo.InvariantCulture,
            $"{names}: too few lives to say, with {failures} {(failures == 1 ? "failure" : "failures")}; {takes}."));

        int? LivesNeeded() => needed is { } n && failures > 0 ? (int)Math.Ceiling(n * (double)(livesA.Count + livesB.Count) / failures) : null;
    }

    private int? FailuresNeeded(IReadOnlyList<Lifetime> a, IReadOnlyList<Lifetime> b, int pairs)
    {
        // One shape for both, each with a scale of its own.
        if (WeibullFit.Fit([.. a, .. b], [.. a.Select(_ => (IReadOnlyList<double>)[0]), .. b.Select(_ => (IReadOnlyList<double>)[1])]) is not { Status: WeibullStatus.Fitted } fit)
        {
            return null;
        }

        var z = Normal.InvCDF(0, 1, 1 - (options.Significance / pairs / 2)) + Normal.InvCDF(0, 1, options.Power);
        var share = a.Count / (double)(a.Count + b.Count);
        var logHazardRatio = fit.Shape * Math.Log(options.LifeRatio);
        return (int)Math.Ceiling(z * z / (share * (1 - share) * logHazardRatio * logHazardRatio));
    }

    private static string Hours(ModelLife model) => model.MedianLifeH.Mid is { } mid ? string.Create(CultureInfo.InvariantCulture, $"{mid:F0} h") : "not reached";
}
