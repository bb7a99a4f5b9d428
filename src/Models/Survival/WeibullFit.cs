using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.RootFinding;

namespace Vanehour.Models.Survival;

/// <summary>
/// A Weibull distribution by maximum likelihood, with right censoring, failures found at inspections (interval censoring), late entry and covariates on the logarithm of
/// life (accelerated failure time): log T = b0 + b1 x1 + ... + s W, with W of the smallest-extreme-value distribution, so that shape = 1/s and, without covariates, scale = exp(b0).
/// Source: Meeker and Escobar, Statistical Methods for Reliability Data (1998), chapters 8, 11 and 17.
/// </summary>
public sealed class WeibullFit
{
    private const double AccuracyOfLimits = 1e-10;
    private const int MostWidenings = 60;

    private readonly WeibullLikelihood likelihood;
    private readonly Vector<double> best;

    private WeibullFit(WeibullStatus status, WeibullLikelihood likelihood, Vector<double> best, double logLikelihood, Matrix<double>? covariance)
    {
        (Status, this.likelihood, this.best, LogLikelihood, Covariance) = (status, likelihood, best, logLikelihood, covariance);
    }

    /// <summary>Whether it was fitted; else no other member says anything.</summary>
    public WeibullStatus Status { get; }

    /// <summary>The natural logarithm of the likelihood, densities by age; of failures found at an inspection the probability of the interval.</summary>
    public double LogLikelihood { get; }

    /// <summary>b0, b1, ...: intercept and covariates, of the natural logarithm of life.</summary>
    public ImmutableArray<double> Coefficients => [.. best.Take(best.Count - 1)];

    /// <summary>Of the coefficients and, last, log s: the inverse of the observed information.</summary>
    public Matrix<double>? Covariance { get; }

    /// <summary>The shape, 1/s.</summary>
    public double Shape => Math.Exp(-best[^1]);

    /// <summary>Its standard error, by the delta method.</summary>
    public double ShapeSe => Shape * Math.Sqrt(Covariance![best.Count - 1, best.Count - 1]);

    /// <summary>The age by which 63.2 % have failed, where all covariates are 0.</summary>
    public double Scale => Math.Exp(best[0]);

    /// <summary>Its standard error, by the delta method.</summary>
    public double ScaleSe => Scale * Math.Sqrt(Covariance![0, 0]);

    /// <summary>The mean life where all covariates are 0.</summary>
    public double Mean => Scale * SpecialFunctions.Gamma(1 + (1 / Shape));

    /// <summary>Fits.</summary>
    /// <param name="lifetimes">The units.</param>
    /// <param name="covariates">Of each unit, all of one length; null for none.</param>
    /// <exception cref="ArgumentException">An age or a covariate cannot be used.</exception>
    public static WeibullFit Fit(IReadOnlyList<Lifetime> lifetimes, IReadOnlyList<IReadOnlyList<double>>? covariates = null)
    {
        Lifetime.Check(lifetimes);
        if (covariates is not null && (covariates.Count != lifetimes.Count || covariates.Any(c => c.Count != covariates[0].Count || !c.All(double.IsFinite))))
        {
            throw new ArgumentException("Covariates must be finite, of one length, for each lifetime.", nameof(covariates));
        }

        var likelihood = new WeibullLikelihood(lifetimes, covariates);
        if (Refusal(lifetimes) is { } refused)
        {
            return new WeibullFit(refused, likelihood, likelihood.Zero, double.NaN, null);
        }

        var peak = likelihood.Start().Select(s => likelihood.Climb(s, 0, null)).OfType<WeibullPeak>().MaxBy(p => p.LogLikelihood);
        return peak is null
            ? new WeibullFit(WeibullStatus.NotIdentified, likelihood, likelihood.Zero, double.NaN, null)
            : new WeibullFit(WeibullStatus.Fitted, likelihood, peak.Parameters, peak.LogLikelihood, peak.Information.Inverse());
    }

    /// <summary>The age by which a share has failed, where all covariates are 0.</summary>
    /// <param name="share">The share, above 0 and below 1.</param>
    public double Quantile(double share) => Math.Exp(best[0] + (Math.Exp(best[^1]) * Standard(share)));

    /// <summary>The age by which a share has failed with limits by profile likelihood.</summary>
    /// <param name="share">The share, above 0 and below 1; 0.1 for the B10 life, 1 - 1/e for the scale.</param>
    /// <param name="level">Of the limits, above 0 and below 1.</param>
    public EstimateWithLimits QuantileInterval(double share, double level = 0.95)
    {
        var shift = Standard(share);
        if (Status != WeibullStatus.Fitted)
        {
            return new EstimateWithLimits(null, null, null);
        }

        // With the intercept moved to that quantile it is one parameter, and the others are free.
        var moved = best.Clone();
        moved[0] += Math.Exp(best[^1]) * shift;
        var (low, high) = Profile(moved, shift, 0, level);
        return new EstimateWithLimits(Exp(low), Math.Exp(moved[0]), Exp(high));
    }

    /// <summary>The shape with limits by profile likelihood.</summary>
    /// <param name="level">Of the limits, above 0 and below 1.</param>
    public EstimateWithLimits ShapeInterval(double level = 0.95)
    {
        if (Status != WeibullStatus.Fitted)
        {
            return new EstimateWithLimits(null, null, null);
        }

        var (low, high) = Profile(best, 0, best.Count - 1, level);
        return new EstimateWithLimits(Exp(-high), Shape, Exp(-low));
    }

    private static double? Exp(double? value) => value is { } v ? Math.Exp(v) : null;

    private static double Standard(double share) => share is > 0 and < 1
        ? Math.Log(-Math.Log(1 - share))
        : throw new ArgumentOutOfRangeException(nameof(share), share, "A share lies between 0 and 1.");

    private static WeibullStatus? Refusal(IReadOnlyList<Lifetime> lifetimes)
    {
        if (lifetimes.Count == 0)
        {
            return WeibullStatus.NoUnits;
        }

        var failures = lifetimes.Where(l => l.HasFailed).ToList();
        if (failures.Count == 0)
        {
            return WeibullStatus.NoFailures;
        }

        // An age at which all may have failed, none having lasted longer: the last seen fine of any, and no later than any failure.
        var latest = lifetimes.Max(l => l.HasFailed ? l.FineUntil ?? l.Exit : l.Exit);
        var first = failures.Min(l => l.Exit);
        if (latest < first || (latest == first && failures.Any(l => l.FineUntil is null)))
        {
            return WeibullStatus.AllFailuresAtOnce;
        }

        // Inspections at one age tell the share that lasts to it, which any shape can meet.
        var isOneAge = failures.All(l => l.FineUntil is not null) && lifetimes.SelectMany(l => new[] { l.Entry, l.Exit, l.FineUntil ?? 0 }).Where(a => a > 0).Distinct().Count() == 1;
        return isOneAge ? WeibullStatus.NotIdentified : null;
    }

    private (double? Low, double? High) Profile(Vector<double> peak, double shift, int index, double level)
    {
        var drop = ChiSquared.InvCDF(1, level) / 2;
        var width = Math.Sqrt(likelihood.Information(peak, shift).Inverse()[index, index]) * Math.Sqrt(2 * drop);
        return (Limit(-1), Limit(1));

        // Where the likelihood, at its highest for this value of the parameter, has fallen by so much.
        double? Limit(int side)
        {
            var from = peak.Clone();
            double Above(double value)
            {
                var start = from.Clone();
                start[index] = value;
                if (likelihood.Climb(start, shift, index) is not { } there)
                {
                    return double.NaN;
                }

                from = there.Parameters;
                return there.LogLikelihood - LogLikelihood + drop;
            }

            var inside = peak[index];
            for (var i = 1; i <= MostWidenings; i++)
            {
                var outside = inside + (side * width / 2);
                var above = Above(outside);
                if (double.IsNaN(above))
                {
                    return null;
                }

                if (above <= 0)
                {
                    return Brent.TryFindRoot(Above, Math.Min(inside, outside), Math.Max(inside, outside), AccuracyOfLimits, 100, out var root) ? root : null;
                }

                inside = outside;
            }

            return null;
        }
    }
}
