using Vanehour.Models.RemainingLife;

namespace Vanehour.Models.VaneWear;

/// <summary>
/// Weighs hours learned from ended lives against the wear curve's, by what both said of ended lives they had not learned from, and sets the range by what the two together missed by then.
/// </summary>
internal sealed class WearBlend
{
    // Weights that are tried.
    private const int Weights = 20;

    // Above this share of the cap the wear curve gives way no more, below Full wholly, between them in proportion; of our own.
    private const double None = 0.95;
    private const double Full = 0.65;

    // Half a range is never taken as narrower, h; of our own.
    private const double LeastHalfH = 5;

    private readonly double capH;
    private readonly double weight;
    private readonly int lives;
    private readonly HeldOutErrors errors;

    private WearBlend(double capH, double weight, int lives, HeldOutErrors errors)
    {
        this.capH = capH;
        this.weight = weight;
        this.lives = lives;
        this.errors = errors;
    }

    /// <summary>The weight of what was learned, 0 to 1.</summary>
    public double Weight => weight;

    /// <summary>Chooses the weight and reads the errors.</summary>
    /// <param name="past">What was said of ended lives, and what came true.</param>
    /// <param name="capH">Hours above which nothing is learned, h.</param>
    /// <param name="level">The chance to be inside the range.</param>
    public static WearBlend Learn(IReadOnlyList<PastForecast> past, double capH, double level)
    {
        var within = past.Where(p => Share(p.P50, capH) > 0).ToList();
        var byUnit = within.GroupBy(p => p.Life, StringComparer.Ordinal).Select(g => g.ToList()).ToList();
        var best = 0.0;
        var least = double.PositiveInfinity;
        double[] without = [.. byUnit.Select(u => Miss(u, 0))];
        for (var i = 0; i <= Weights; i++)
        {
            var tried = (double)i / Weights;
            var sum = byUnit.Sum(u => Miss(u, tried));
            if (sum < least)
            {
                (best, least) = (tried, sum);
            }
        }

        // A gain that the lives do not agree on is none.
        var gains = byUnit.Select((u, i) => without[i] - Miss(u, best)).ToList();
        var mean = gains.Count == 0 ? 0 : gains.Average();
        var se = gains.Count < 2 ? double.PositiveInfinity : Math.Sqrt(gains.Sum(g => (g - mean) * (g - mean)) / (gains.Count - 1) / gains.Count);
        var chosen = mean > se ? best : 0;

        // Errors in units of the half range that the wear curve itself gives.
        return new WearBlend(capH, chosen, byUnit.Count(u => u[0].HasEnded), new HeldOutErrors(
            [
                .. within.Select(p =>
                {
                    var middle = Middle(p.P50, p.Learned, chosen, capH);
                    var miss = p.CameTrueH - middle;
                    return new HeldOutError(p.Life, middle, miss / Math.Max(LeastHalfH, miss < 0 ? p.P50 - p.P10 : p.P90 - p.P50), !p.HasEnded);
                }),
            ],
            level));

        double Miss(List<PastForecast> unit, double w) => unit.Average(p =>
        {
            // Of a life that goes on it is only known that it lasted as long as this.
            var far = Middle(p.P50, p.Learned, w, capH) - p.CameTrueH;
            return p.HasEnded || far < 0 ? far * far : 0;
        });
    }

    /// <summary>The hours, and what they are made of.</summary>
    public (double P10, double P50, double P90, LearnedShare Share)? Of(double p10, double p50, double p90, double? learned)
    {
        var share = Share(p50, capH);
        if (share <= 0 || !(p50 > 0))
        {
            return null;
        }

        var middle = Middle(p50, learned ?? p50, weight, capH);
        var (low, median, high) = errors.Band(middle);
        if (!double.IsFinite(low) || !double.IsFinite(median))
        {
            return null;
        }

        // Where most lives go on none has shown yet how late it can be: then as the wear curve has it.
        high = double.IsFinite(high) ? high : Math.Max(1, median + 1);

        // Where the learned part gives way, so does the range.
        var (below, above) = (Math.Max(LeastHalfH, p50 - p10), Math.Max(LeastHalfH, p90 - p50));
        return (At(low, -1), At(median, 0), At(high, 1), new LearnedShare(learned is null ? 0 : share * weight, lives));

        double At(double seen, double usual)
        {
            var factor = usual + (share * (seen - usual));
            return Math.Max(0, middle + (factor * (factor < 0 ? below : above)));
        }
    }

    private static double Middle(double curve, double learned, double weight, double capH) => curve + (Share(curve, capH) * weight * (learned - Math.Min(curve, capH)));

    private static double Share(double curve, double capH) => double.IsFinite(curve) ? Math.Clamp(((None * capH) - curve) / ((None - Full) * capH), 0, 1) : 0;
}
