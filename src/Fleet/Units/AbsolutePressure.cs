using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A pressure above a perfect vacuum, for example that of a barometer. Never negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<AbsolutePressure>))]
public readonly record struct AbsolutePressure : IQuantity<AbsolutePressure>, IComparable<AbsolutePressure>
{
    private AbsolutePressure(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.Pressure;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in kPa.</summary>
    public double Kilopascals => Unit.Kilopascal.FromSi(Si);

    /// <summary>The value in inHg.</summary>
    public double InchesOfMercury => Unit.InchOfMercury.FromSi(Si);

    public static bool operator <(AbsolutePressure left, AbsolutePressure right) => left.Si < right.Si;

    public static bool operator >(AbsolutePressure left, AbsolutePressure right) => left.Si > right.Si;

    public static bool operator <=(AbsolutePressure left, AbsolutePressure right) => left.Si <= right.Si;

    public static bool operator >=(AbsolutePressure left, AbsolutePressure right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static AbsolutePressure FromSi(double value) => new(Finite.NotNegative(value));

    /// <summary>From a value in kPa.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static AbsolutePressure FromKilopascals(double value) => FromSi(Unit.Kilopascal.ToSi(value));

    /// <summary>From a value in inHg.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static AbsolutePressure FromInchesOfMercury(double value) => FromSi(Unit.InchOfMercury.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(AbsolutePressure other) => Si.CompareTo(other.Si);
}
