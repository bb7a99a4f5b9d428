namespace Vanehour.Models.Indicators;

/// <summary>
/// Chart of single values: centre their mean, standard deviation the mean moving range over d2, limits three of those away.
/// </summary>
/// <remarks>[NIST] NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2; d2 = 1.128 for ranges of two.</remarks>
/// <param name="Centre">Mean of the values, in their unit.</param>
/// <param name="Sd">Mean moving range over d2, in their unit, 0 or more.</param>
public sealed record IndividualsChart(double Centre, double Sd)
{
    private const double D2 = 1.128;
    private const double LimitSd = 3;

    /// <summary>Lower limit, in the values' unit.</summary>
    public double Low => Centre - (LimitSd * Sd);

    /// <summary>Upper limit, in the values' unit.</summary>
    public double High => Centre + (LimitSd * Sd);

    /// <summary>The chart of values in order of time.</summary>
    /// <param name="values">At least two, finite.</param>
    /// <exception cref="ArgumentException">There are fewer than two, or one is not finite.</exception>
    public static IndividualsChart Of(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count < 2 || values.Any(v => !double.IsFinite(v)))
        {
            throw new ArgumentException("A chart needs at least two values, all finite.", nameof(values));
        }

        var ranges = values.Skip(1).Zip(values, (now, before) => Math.Abs(now - before));
        return new IndividualsChart(values.Average(), ranges.Average() / D2);
    }
}
