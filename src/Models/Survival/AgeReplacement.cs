using MathNet.Numerics;
using MathNet.Numerics.RootFinding;

namespace Vanehour.Models.Survival;

/// <summary>
/// Replacement at a fixed age or at failure, whichever comes first: the age that costs least per hour in the long run for Weibull lives. Source: Barlow and Proschan,
/// Mathematical Theory of Reliability (1965), chapter 4.
/// </summary>
/// <param name="Age">The age that costs least; null when waiting for the failure costs least.</param>
/// <param name="CostRate">Cost per unit of age at that policy.</param>
/// <param name="FailureCostRate">Cost per unit of age when every unit runs to failure.</param>
/// <param name="FailureShare">Share of units that still fail before they are replaced, 0..1.</param>
public sealed record AgeReplacement(double? Age, double CostRate, double FailureCostRate, double FailureShare)
{
    // Of (age/scale)^shape = 700: no unit in 10^300 gets there, so an age beyond it is none. Shapes that are hardly above 1 lead there.
    private const double LargestLogX = 6.55;

    /// <summary>Share of the cost of running to failure that is saved, 0..1.</summary>
    public double Saving => 1 - (CostRate / FailureCostRate);

    /// <summary>Finds it.</summary>
    /// <param name="shape">Weibull shape, above 0.</param>
    /// <param name="scale">Weibull scale, above 0; in the unit of the age.</param>
    /// <param name="plannedCost">Of a planned replacement, above 0.</param>
    /// <param name="failureCost">Of a failure and the replacement after it, above 0; in the same unit.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite and above 0.</exception>
    public static AgeReplacement Best(double shape, double scale, double plannedCost, double failureCost)
    {
        Positive(shape, nameof(shape));
        Positive(scale, nameof(scale));
        Positive(plannedCost, nameof(plannedCost));
        Positive(failureCost, nameof(failureCost));
        var meanLife = scale * SpecialFunctions.Gamma(1 + (1 / shape));
        var toFailure = new AgeReplacement(null, failureCost / meanLife, failureCost / meanLife, 1);
        if (shape <= 1 || failureCost <= plannedCost)
        {
            return toFailure;
        }

        // With x = (age/scale)^shape, hazard times mean time to the end of a cycle, less the share that failed, rises from 0 without end.
        var wanted = plannedCost / (failureCost - plannedCost);
        double Gap(double logX)
        {
            var x = Math.Exp(logX);
            return (shape / scale * Math.Pow(x, (shape - 1) / shape) * Cycle(x)) + Math.Exp(-x) - 1 - wanted;
        }

        var (low, high) = (-1.0, 1.0);
        while (Gap(low) > 0)
        {
            low *= 2;
        }

        while (high < LargestLogX && Gap(high) < 0)
        {
            high = Math.Min(2 * high, LargestLogX);
        }

        if (Gap(high) < 0)
        {
            return toFailure;
        }

        var best = Math.Exp(Brent.FindRoot(Gap, low, high, 1e-14, 200));
        return new AgeReplacement(
            scale * Math.Pow(best, 1 / shape),
            (failureCost - ((failureCost - plannedCost) * Math.Exp(-best))) / Cycle(best),
            toFailure.FailureCostRate,
            1 - Math.Exp(-best));

        double Cycle(double x) => meanLife * SpecialFunctions.GammaLowerRegularized(1 / shape, x);
    }

    private static void Positive(double value, string name)
    {
        if (!(value > 0) || !double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(name, value, "It must be finite and above 0.");
        }
    }
}
