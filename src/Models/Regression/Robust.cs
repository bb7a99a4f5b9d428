namespace Vanehour.Models.Regression;

/// <summary>Location and spread that a few bad values cannot move far.</summary>
public static class Robust
{
    /// <summary>Turns a median absolute deviation into a standard deviation when values are normal: 1 / Phi^-1(3/4).</summary>
    public const double MadToSd = 1.482602218505602;

    /// <summary>Huber's tuning constant: 95 % as efficient as least squares on normal data. [Huber] P. J. Huber, Robust Statistics, 1981, section 4.5.</summary>
    public const double HuberK = 1.345;

    /// <summary>The median; of an even count the mean of the middle two.</summary>
    /// <exception cref="ArgumentException">There are no values.</exception>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values];
        if (sorted.Length == 0)
        {
            throw new ArgumentException("There is no median of no values.", nameof(values));
        }

        Array.Sort(sorted);
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    /// <summary>The value with half of the weight at or below it.</summary>
    /// <exception cref="ArgumentException">There are no values.</exception>
    public static double WeightedMedian(IEnumerable<(double Value, double Weight)> values)
    {
        (double Value, double Weight)[] sorted = [.. values.OrderBy(v => v.Value)];
        if (sorted.Length == 0)
        {
            throw new ArgumentException("There is no median of no values.", nameof(values));
        }

        var half = sorted.Sum(v => v.Weight) / 2;
        var sum = 0.0;
        foreach (var (value, weight) in sorted)
        {
            sum += weight;
            if (sum >= half)
            {
                return value;
            }
        }

        return sorted[^1].Value;
    }

    /// <summary>Standard deviation about the median by the median absolute deviation, in the values' unit.</summary>
    /// <exception cref="ArgumentException">There are no values.</exception>
    public static double Spread(IReadOnlyCollection<double> values)
    {
        var median = Median(values);
        return MadToSd * Median(values.Select(v => Math.Abs(v - median)));
    }

    /// <summary>Standard deviation about 0 by the median absolute value, in the values' unit.</summary>
    /// <exception cref="ArgumentException">There are no values.</exception>
    public static double SpreadAboutZero(IEnumerable<double> values) => MadToSd * Median(values.Select(Math.Abs));

    /// <summary>Huber's weight of a residual: 1 up to <see cref="HuberK"/> scales, then falling as 1/|r|; 1 where the scale is 0.</summary>
    public static double HuberWeight(double residual, double scale) =>
        Math.Abs(residual) <= HuberK * scale || scale <= 0 ? 1 : HuberK * scale / Math.Abs(residual);
}
