using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A rotational speed in revolutions; SI value in 1/s, never negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<RotationalSpeed>))]
public readonly record struct RotationalSpeed : IQuantity<RotationalSpeed>, IComparable<RotationalSpeed>
{
    private RotationalSpeed(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.RotationalSpeed;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in revolutions per minute.</summary>
    public double Rpm => Unit.Rpm.FromSi(Si);

    public static bool operator <(RotationalSpeed left, RotationalSpeed right) => left.Si < right.Si;

    public static bool operator >(RotationalSpeed left, RotationalSpeed right) => left.Si > right.Si;

    public static bool operator <=(RotationalSpeed left, RotationalSpeed right) => left.Si <= right.Si;

    public static bool operator >=(RotationalSpeed left, RotationalSpeed right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static RotationalSpeed FromSi(double value) => new(Finite.NotNegative(value));

    /// <summary>From a value in revolutions per minute.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static RotationalSpeed FromRpm(double value) => FromSi(Unit.Rpm.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(RotationalSpeed other) => Si.CompareTo(other.Si);
}
