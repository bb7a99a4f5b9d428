namespace Vanehour.Models.VaneWear;

/// <summary>Carries positive values from one distribution to another by some of their quantiles: in proportion between them, in the last one's ratio beyond.</summary>
/// <param name="quantiles">From and to, both growing or standing still.</param>
internal sealed class QuantileMap(params (double From, double To)[] quantiles)
{
    /// <summary>Where a value goes.</summary>
    public double Of(double value)
    {
        var (from, to) = (0.0, 0.0);
        foreach (var (nextFrom, nextTo) in quantiles)
        {
            if (value <= nextFrom)
            {
                return nextFrom > from ? to + ((value - from) / (nextFrom - from) * (nextTo - to)) : nextTo;
            }

            (from, to) = (nextFrom, nextTo);
        }

        return from > 0 ? value * to / from : value;
    }
}
