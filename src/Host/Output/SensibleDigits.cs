namespace Vanehour.Host.Output;

/// <summary>
/// Rounds to ten significant digits what goes out to other programs: far beyond what any sensor tells, and without the tail of binary fractions
/// (0.5199999999999818 for 0.52) that makes a spreadsheet hard to read.
/// </summary>
public static class SensibleDigits
{
    private const int Digits = 10;

    /// <summary>The rounded number; NaN and infinities as they are.</summary>
    public static double Of(double value)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return value;
        }

        var decimals = Digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return decimals is >= 0 and <= 15 ? Math.Round(value, decimals, MidpointRounding.ToEven) : value;
    }
}
