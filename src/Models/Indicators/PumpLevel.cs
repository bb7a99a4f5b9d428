using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

/// <summary>What one pump usually shows at given conditions, with its standard error, in the indicator's unit.</summary>
/// <param name="Estimate">The level at <see cref="At"/>.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="At">The predictors at which it was read.</param>
internal sealed record PumpLevel(double Estimate, double StandardError, double[] At)
{
    /// <summary>A pump's own level from its reference runs: the weighted median of what the slopes leave, which a few bad runs cannot move.</summary>
    public static PumpLevel FromOwnRuns(IReadOnlyList<IndicatorObservation> reference, IConditionFit fit, double rhoFactor)
    {
        var total = reference.Sum(o => o.Weight);
        var at = new double[fit.Width];
        for (var j = 0; j < at.Length; j++)
        {
            at[j] = reference.Sum(o => o.Weight * o.Predictors[j]) / total;
        }

        var estimate = Robust.WeightedMedian(reference.Select(o => (o.Seen - fit.Explained(o.Pump, o.Predictors, at), o.Weight)));

        // A median is as good as a mean of 2/pi as many values.
        var se = fit.ScaleOf(reference[0].Pump) * Math.Sqrt(Math.PI / 2 * rhoFactor / total);
        return new PumpLevel(estimate, se, at);
    }
}
