using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A length or height; SI value in m. Elevations may be negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<Length>))]
public readonly record struct Length : IQuantity<Length>, IComparable<Length>
{
    private Length(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.Length;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in m.</summary>
    public double Metres => Unit.Metre.FromSi(Si);

    /// <summary>The value in mm.</summary>
    public double Millimetres => Unit.Millimetre.FromSi(Si);

    /// <summary>The value in in.</summary>
    public double Inches => Unit.InchLength.FromSi(Si);

    /// <summary>The value in ft.</summary>
    public double Feet => Unit.FootLength.FromSi(Si);

    public static bool operator <(Length left, Length right) => left.Si < right.Si;

    public static bool operator >(Length left, Length right) => left.Si > right.Si;

    public static bool operator <=(Length left, Length right) => left.Si <= right.Si;

    public static bool operator >=(Length left, Length right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static Length FromSi(double value) => new(Finite.Check(value));

    /// <summary>From a value in m.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Length FromMetres(double value) => FromSi(Unit.Metre.ToSi(value));

    /// <summary>From a value in mm.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Length FromMillimetres(double value) => FromSi(Unit.Millimetre.ToSi(value));

    /// <summary>From a value in in.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Length FromInches(double value) => FromSi(Unit.InchLength.ToSi(value));

    /// <summary>From a value in ft.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Length FromFeet(double value) => FromSi(Unit.FootLength.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(Length other) => Si.CompareTo(other.Si);
}
