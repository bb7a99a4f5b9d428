using System.Runtime.CompilerServices;

namespace Vanehour.Fleet;

/// <summary>One optional value for each <see cref="Signal"/>, in canonical units. A signal that was not sent is NaN inside and null outside.</summary>
[InlineArray(SignalInfo.Count)]
public struct SignalValues
{
    private double first;

    /// <summary>No signal at all.</summary>
    public static SignalValues Empty
    {
        get
        {
            SignalValues values = default;
            ((Span<double>)values).Fill(double.NaN);
            return values;
        }
    }

    /// <summary>Whether no signal has a value.</summary>
    public readonly bool IsEmpty
    {
        get
        {
            foreach (var value in this)
            {
                if (!double.IsNaN(value))
                {
                    return false;
                }
            }

            return true;
        }
    }

    /// <summary>The value in the canonical unit, or null.</summary>
    public readonly double? Get(Signal signal)
    {
        var value = this[(int)signal];
        return double.IsNaN(value) ? null : value;
    }

    /// <summary>The value in the canonical unit, or NaN: for inner loops.</summary>
    public readonly double Raw(Signal signal) => this[(int)signal];

    /// <summary>Sets a value; null removes it.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN or infinite.</exception>
    public void Set(Signal signal, double? value)
    {
        if (value is { } v && !double.IsFinite(v))
        {
            throw new ArgumentOutOfRangeException(nameof(value), v, "A signal's value must be finite.");
        }

        this[(int)signal] = value ?? double.NaN;
    }

    /// <summary>Takes over every value that <paramref name="later"/> has: of two messages about one instant the last to arrive wins.</summary>
    public void Merge(in SignalValues later)
    {
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            if (!double.IsNaN(later[i]))
            {
                this[i] = later[i];
            }
        }
    }
}
