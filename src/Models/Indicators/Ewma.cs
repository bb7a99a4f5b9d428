namespace Vanehour.Models.Indicators;

/// <summary>
/// Exponentially weighted moving average: value = lambda x + (1 - lambda) value, from 0. Its variance over that of x after t values is
/// lambda/(2 - lambda) (1 - (1 - lambda)^(2t)).
/// </summary>
/// <remarks>[NIST] NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4.</remarks>
/// <param name="lambda">Weight of the newest value, above 0 and at most 1.</param>
/// <param name="start">The value before the first.</param>
public sealed class Ewma(double lambda, double start = 0)
{
    private double _fade = 1;

    /// <summary>The average, in the unit of the values.</summary>
    public double Value { get; private set; } = start;

    /// <summary>Variance of the average over the variance of one value, 0..1, for independent values.</summary>
    public double VarianceRatio => lambda / (2 - lambda) * (1 - _fade);

    /// <summary>
    /// The factor on <see cref="VarianceRatio"/> when neighbours correlate by <paramref name="rho"/> as in a first-order autoregression:
    /// (1 + rho (1 - lambda)) / (1 - rho (1 - lambda)), the long-run factor.
    /// </summary>
    public double CorrelationFactor(double rho) => (1 + (rho * (1 - lambda))) / (1 - (rho * (1 - lambda)));

    /// <summary>Takes the next value in.</summary>
    public void Add(double value)
    {
        Value += lambda * (value - Value);
        _fade *= (1 - lambda) * (1 - lambda);
    }

    /// <summary>Starts again from <paramref name="value"/>.</summary>
    public void Reset(double value = 0)
    {
        Value = value;
        _fade = 1;
    }
}
