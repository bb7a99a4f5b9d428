using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Vanehour.Models.Survival;

/// <summary>
/// The product-limit estimate with late entry, its Greenwood errors and complementary log-log limits, and the Nelson-Aalen cumulative hazard beside it. Source: Kaplan and Meier
/// 1958; Klein and Moeschberger, Survival Analysis (2003), chapter 4.
/// </summary>
public static class KaplanMeier
{
    /// <summary>The curve.</summary>
    /// <param name="lifetimes">The units. With late entry the first risk sets can be small, and a curve that falls to 0 in one of them stays there. A failure
    /// found at an inspection counts at the inspection, so that the curve lies too high by up to the time between inspections; <see cref="WeibullFit"/> takes the interval.</param>
    /// <param name="level">Of the limits, above 0 and below 1.</param>
    /// <exception cref="ArgumentException">An age or the level cannot be used.</exception>
    public static SurvivalCurve Estimate(IReadOnlyList<Lifetime> lifetimes, double level = 0.95)
    {
        Lifetime.Check(lifetimes);
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "A level lies between 0 and 1.");
        }

        var z = Normal.InvCDF(0, 1, (1 + level) / 2);
        var steps = ImmutableArray.CreateBuilder<SurvivalStep>();
        var (survival, greenwood, hazard, hazardVariance) = (1.0, 0.0, 0.0, 0.0);
        foreach (var set in RiskSet.Of(lifetimes))
        {
            double n = set.AtRisk;
            var d = set.Failures;
            survival *= (n - d) / n;
            greenwood += d / (n * (n - d));
            hazard += d / n;
            hazardVariance += d / (n * n);
            var isSpent = survival <= 0;
            var swing = z * Math.Sqrt(greenwood) / Math.Abs(Math.Log(survival));
            steps.Add(new SurvivalStep(
                set.Age,
                set.AtRisk,
                d,
                survival,
                isSpent ? null : survival * Math.Sqrt(greenwood),
                isSpent ? null : Math.Pow(survival, Math.Exp(swing)),
                isSpent ? null : Math.Pow(survival, Math.Exp(-swing)),
                hazard,
                Math.Sqrt(hazardVariance)));
        }

        return new SurvivalCurve(lifetimes.Count, lifetimes.Count(l => l.HasFailed), level, steps.ToImmutable());
    }
}
