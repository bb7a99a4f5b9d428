using MathNet.Numerics.Distributions;

namespace Vanehour.Models.VaneWear;

/// <summary>
/// What is believed of baseline q0, wear at fitting a and rate r after the checks y = q0 (1 - (1 - limit)(a + r h)) + e, e normal.
/// </summary>
/// <remarks>
/// Given q0 and the noise, a and r are normal in closed form (r cut off below 0), so q0 is integrated on a grid and the noise over forty strata of
/// its scaled inverse chi-squared distribution: no chain, no tuning, the same answer each time. Outliers enter with the variance their distance deserves.
/// [BDA] A. Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, sections 3.7 and 14.2.
/// </remarks>
internal static class WearPosterior
{
    private const int NoiseStrata = 40;
    private const int CoarseGrid = 240;
    private const int FineGrid = 240;

    // e^-18 of the peak and less cannot show in a few thousand draws.
    private const double Negligible = 18;

    /// <summary>Draws from the posterior.</summary>
    /// <param name="checks">The checks.</param>
    /// <param name="weights">Their weights, 1/variance.</param>
    /// <param name="baseline">The prior of q0.</param>
    /// <param name="flowKeptLimit">Flow kept at wear 1.</param>
    /// <param name="atFittingSd">Prior standard deviation of a.</param>
    /// <param name="rate">Prior of r.</param>
    /// <param name="draws">How many, rounded up to the strata.</param>
    /// <param name="random">The generator.</param>
    public static WearDraw[] Draw(
        IReadOnlyList<WearCheck> checks,
        double[] weights,
        Baseline baseline,
        double flowKeptLimit,
        double atFittingSd,
        RatePrior rate,
        int draws,
        Random random)
    {
        var data = new Sums(checks, weights, 1 - flowKeptLimit, atFittingSd, rate);
        var perStratum = (draws + NoiseStrata - 1) / NoiseStrata;
        var result = new WearDraw[perStratum * NoiseStrata];
        var dof = Math.Max(checks.Count - 2, 1);
        var chiSquared = new ChiSquared(dof);
        for (var stratum = 0; stratum < NoiseStrata; stratum++)
        {
            var noise = dof / chiSquared.InverseCumulativeDistribution((stratum + 0.5) / NoiseStrata);
            var (grid, cumulative, step) = Grid(data, baseline, noise);
            for (var i = 0; i < perStratum; i++)
            {
                var at = Array.BinarySearch(cumulative, random.NextDouble() * cumulative[^1]);
                var q0 = grid[Math.Min(at < 0 ? ~at : at, grid.Length - 1)] + (step * (random.NextDouble() - 0.5));
                var given = data.Given(q0, noise);
                var r = CutNormal(given.RateMean, given.RateSd, random);
                var a = Normal.Sample(random, given.AtFittingMean + (given.Slope * (r - given.RateMean)), given.AtFittingSd);
                result[(stratum * perStratum) + i] = new WearDraw(q0, a, r);
            }
        }

        return result;
    }

    private static (double[] Grid, double[] Cumulative, double Step) Grid(Sums data, Baseline baseline, double noise)
    {
        var sd = baseline.RelativeSd * baseline.PerS;
        var low = Math.Max(baseline.PerS - (6 * sd), baseline.PerS * 0.05);
        var high = baseline.PerS + (6 * sd);
        var (coarse, logs) = Evaluate(low, high, CoarseGrid);
        var peak = logs.Max();
        var first = Array.FindIndex(logs, l => l > peak - Negligible);
        var last = Array.FindLastIndex(logs, l => l > peak - Negligible);
        var margin = (high - low) / (CoarseGrid - 1);
        var (grid, fine) = Evaluate(Math.Max(coarse[first] - margin, low), Math.Min(coarse[last] + margin, high), FineGrid);
        peak = fine.Max();
        var cumulative = new double[grid.Length];
        var sum = 0.0;
        for (var i = 0; i < grid.Length; i++)
        {
            sum += Math.Exp(fine[i] - peak);
            cumulative[i] = sum;
        }

        return (grid, cumulative, grid[1] - grid[0]);

        (double[] At, double[] Log) Evaluate(double from, double to, int count)
        {
            var at = new double[count];
            var log = new double[count];
            for (var i = 0; i < count; i++)
            {
                at[i] = from + ((to - from) * i / (count - 1));
                var z = (at[i] - baseline.PerS) / sd;
                log[i] = data.Given(at[i], noise).LogEvidence - (z * z / 2);
            }

            return (at, log);
        }
    }

    // A normal cut off below 0, by inverting its distribution; far out the tail is exponential.
    private static double CutNormal(double mean, double sd, Random random)
    {
        var u = 1 - random.NextDouble();
        if (mean / sd < -6)
        {
            return -Math.Log(u) * sd * sd / -mean;
        }

        var above = Normal.CDF(0, 1, mean / sd);
        return Math.Max(mean - (sd * Normal.InvCDF(0, 1, u * above)), 0);
    }

    /// <summary>Sums over the checks that the closed form needs. Hours in thousands.</summary>
    private sealed class Sums
    {
        private readonly double _range;
        private readonly double _priorA;
        private readonly double _priorR;
        private readonly double _rateMean;
        private readonly double _s0;
        private readonly double _s1;
        private readonly double _s2;
        private readonly double _sy;
        private readonly double _shy;
        private readonly double _syy;
        private readonly double _centre;

        public Sums(IReadOnlyList<WearCheck> checks, double[] weights, double range, double atFittingSd, RatePrior rate)
        {
            _range = range;
            _priorA = 1 / (atFittingSd * atFittingSd);
            _priorR = 1 / (rate.SdPer1000H * rate.SdPer1000H);
            _rateMean = rate.MeanPer1000H;
            _centre = checks.Average(c => c.FlowPerS);
            for (var i = 0; i < checks.Count; i++)
            {
                var w = weights[i];
                var h = checks[i].HoursH / 1000;
                var y = checks[i].FlowPerS - _centre;
                _s0 += w;
                _s1 += w * h;
                _s2 += w * h * h;
                _sy += w * y;
                _shy += w * h * y;
                _syy += w * y * y;
            }
        }

        public (double RateMean, double RateSd, double AtFittingMean, double Slope, double AtFittingSd, double LogEvidence) Given(double q0, double noise)
        {
            // Fallen flow q0 - y = q0 range (a + r h) + e.
            var k = q0 * _range;
            var lift = q0 - _centre;
            var aa = (k * k * _s0 / noise) + _priorA;
            var ar = k * k * _s1 / noise;
            var rr = (k * k * _s2 / noise) + _priorR;
            var ba = k * ((lift * _s0) - _sy) / noise;
            var br = (k * ((lift * _s1) - _shy) / noise) + (_priorR * _rateMean);
            var det = (aa * rr) - (ar * ar);
            var a = ((rr * ba) - (ar * br)) / det;
            var r = ((aa * br) - (ar * ba)) / det;
            var rateSd = Math.Sqrt(aa / det);
            var squares = ((lift * lift * _s0) - (2 * lift * _sy) + _syy) / noise;
            var log = (((ba * a) + (br * r) - squares - Math.Log(det)) / 2) + LogAbove(r / rateSd);
            return (r, rateSd, a, -ar / aa, 1 / Math.Sqrt(aa), log);
        }

        // log Phi(z); below -30 by its asymptote, where the distribution itself underflows.
        private static double LogAbove(double z) => z > -30
            ? Math.Log(Normal.CDF(0, 1, z))
            : (-z * z / 2) - Math.Log(-z * Math.Sqrt(2 * Math.PI));
    }
}
