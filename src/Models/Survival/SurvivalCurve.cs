using System.Collections.Immutable;

namespace Vanehour.Models.Survival;

/// <summary>A Kaplan-Meier curve.</summary>
/// <param name="Units">How many units.</param>
/// <param name="Failures">How many of them failed.</param>
/// <param name="Level">Of the limits, 0..1.</param>
/// <param name="Steps">The curve, in order of age; before the first it is 1.</param>
public sealed record SurvivalCurve(int Units, int Failures, double Level, ImmutableArray<SurvivalStep> Steps)
{
    // Products of fractions that are one half in truth miss it by some last bits.
    private const double Same = 1e-9;

    /// <summary>The age by which a share has failed. Where the curve stays exactly at 1 - share, the middle of that stretch, as is usual for the median.</summary>
    /// <param name="share">The share, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="share"/> is not between 0 and 1.</exception>
    public EstimateWithLimits Quantile(double share)
    {
        if (share is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(share), share, "A share lies between 0 and 1.");
        }

        return new EstimateWithLimits(Reach(share, s => s.Low ?? 0), Reach(share, s => s.Survival), Reach(share, s => s.High ?? (s.Survival > 0 ? 1 : double.NaN)));
    }

    private double? Reach(double share, Func<SurvivalStep, double> of)
    {
        for (var i = 0; i < Steps.Length; i++)
        {
            var above = of(Steps[i]) - (1 - share);
            if (Math.Abs(above) <= Same && i + 1 < Steps.Length)
            {
                return (Steps[i].Age + Steps[i + 1].Age) / 2;
            }

            if (above <= Same)
            {
                return Steps[i].Age;
            }
        }

        return null;
    }
}
