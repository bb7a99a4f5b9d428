namespace Vanehour.Models.RemainingLife;

/// <summary>What was recorded of one unit: its indicators at growing ages, and the age at which its life ended where that is known.</summary>
/// <param name="Unit">A name; one unit is never on both sides of a split.</param>
/// <param name="Ages">Ages, finite and growing, in the unit of <see cref="RemainingLifeTask.Windows"/>.</param>
/// <param name="Indicators">One row an age, one column an indicator; NaN where it was not measured.</param>
/// <param name="EndsAtAge">The age at the end of its life, not before the last of <paramref name="Ages"/>; null where it has not ended.</param>
public sealed record UnitHistory(string Unit, IReadOnlyList<double> Ages, IReadOnlyList<IReadOnlyList<double>> Indicators, double? EndsAtAge)
{
    /// <summary>Throws where the history cannot be read.</summary>
    /// <param name="width">How many indicators each row must have.</param>
    /// <exception cref="ArgumentException">Ages do not grow, rows differ in width, or the life ends before it was last seen; the message says which unit.</exception>
    public void Check(int width)
    {
        if (Ages.Count == 0 || Ages.Count != Indicators.Count || Indicators.Any(r => r.Count != width))
        {
            throw new ArgumentException($"Unit {Unit}: each of one or more ages needs a row of {width} indicators.");
        }

        for (var i = 0; i < Ages.Count; i++)
        {
            if (!double.IsFinite(Ages[i]) || (i > 0 && !(Ages[i] > Ages[i - 1])))
            {
                throw new ArgumentException($"Unit {Unit}: ages must be finite and grow.");
            }
        }

        if (EndsAtAge is { } end && !(end >= Ages[^1] && double.IsFinite(end)))
        {
            throw new ArgumentException($"Unit {Unit}: its life must not end before it was last seen.");
        }
    }
}
