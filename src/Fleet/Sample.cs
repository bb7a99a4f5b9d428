namespace Vanehour.Fleet;

/// <summary>What one truck said at one instant.</summary>
/// <param name="Truck">The truck's id; case-sensitive.</param>
/// <param name="UnixMs">The instant in milliseconds since 1970-01-01 UTC.</param>
/// <param name="Values">The signals, in canonical units.</param>
public readonly record struct Sample(string Truck, long UnixMs, SignalValues Values)
{
    /// <summary>The instant.</summary>
    public DateTimeOffset At => DateTimeOffset.FromUnixTimeMilliseconds(UnixMs);

    /// <summary>The value of a signal in its canonical unit, or null.</summary>
    public double? this[Signal signal] => Values.Get(signal);

    /// <inheritdoc/>
    public bool Equals(Sample other)
    {
        var mine = Values;
        var theirs = other.Values;
        return UnixMs == other.UnixMs
            && string.Equals(Truck, other.Truck, StringComparison.Ordinal)
            && ((ReadOnlySpan<double>)mine).SequenceEqual(theirs);
    }

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Truck, UnixMs);
}
