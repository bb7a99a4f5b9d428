namespace Vanehour.Models.ChangePoints;

/// <summary>A row of values in order of time, each with its weight.</summary>
/// <param name="Times">In any unit, never falling.</param>
/// <param name="Values">The values.</param>
/// <param name="StandardErrors">Of each value, in its unit, above 0; relative sizes matter, the noise is estimated.</param>
public sealed record ChangeSeries(IReadOnlyList<double> Times, IReadOnlyList<double> Values, IReadOnlyList<double> StandardErrors)
{
    /// <summary>How many values.</summary>
    public int Count => Values.Count;

    /// <summary>Throws where the lists do not fit together.</summary>
    /// <exception cref="ArgumentException">Lengths differ, a number is not finite, a time falls or a standard error is not above 0.</exception>
    public void Validate()
    {
        if (Times.Count != Values.Count || StandardErrors.Count != Values.Count)
        {
            throw new ArgumentException("Times, values and standard errors must be as many.");
        }

        for (var i = 0; i < Count; i++)
        {
            if (!double.IsFinite(Times[i]) || !double.IsFinite(Values[i]) || !double.IsFinite(StandardErrors[i]) || StandardErrors[i] <= 0)
            {
                throw new ArgumentException($"Value {i} is not finite or its standard error is not above 0.");
            }

            if (i > 0 && Times[i] < Times[i - 1])
            {
                throw new ArgumentException($"Value {i} lies before the one that precedes it.");
            }
        }
    }
}
