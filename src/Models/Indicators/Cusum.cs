namespace Vanehour.Models.Indicators;

/// <summary>
/// Two-sided cumulative sum of values that should lie about 0: high = max(0, high + x - k), low = max(0, low - x - k); a side that passes h signals.
/// </summary>
/// <remarks>[NIST] NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3, in the tabular form.</remarks>
/// <param name="allowance">k, in the values' unit, 0 or more: half of the shift that should be found soonest.</param>
/// <param name="limit">h, in the values' unit, above 0.</param>
/// <param name="ceiling">Neither sum goes beyond it, so that it forgets again; above <paramref name="limit"/>, in the values' unit.</param>
public sealed class Cusum(double allowance, double limit, double ceiling = double.PositiveInfinity)
{
    /// <summary>Sum of what lay above, 0 or more.</summary>
    public double High { get; private set; }

    /// <summary>Sum of what lay below, 0 or more.</summary>
    public double Low { get; private set; }

    /// <summary>How many values ago the high side was last 0: where a shift up seems to have begun.</summary>
    public int HighSince { get; private set; }

    /// <summary>How many values ago the low side was last 0.</summary>
    public int LowSince { get; private set; }

    /// <summary>Whether the high side has passed the limit.</summary>
    public bool SignalsHigh => High > limit;

    /// <summary>Whether the low side has passed the limit.</summary>
    public bool SignalsLow => Low > limit;

    /// <summary>Takes the next value in.</summary>
    /// <exception cref="ArgumentOutOfRangeException">It is not finite.</exception>
    public void Add(double value) => Add(value, allowance);

    /// <summary>Takes the next value in with an allowance of its own.</summary>
    /// <param name="value">The value.</param>
    /// <param name="valueAllowance">k for this value, in the values' unit, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public void Add(double value, double valueAllowance)
    {
        if (!double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "Must be finite.");
        }

        High = Math.Clamp(High + value - valueAllowance, 0, ceiling);
        Low = Math.Clamp(Low - value - valueAllowance, 0, ceiling);
        HighSince = High > 0 ? HighSince + 1 : 0;
        LowSince = Low > 0 ? LowSince + 1 : 0;
    }

    /// <summary>Starts again from 0.</summary>
    public void Reset() => (High, Low, HighSince, LowSince) = (0, 0, 0, 0);
}
