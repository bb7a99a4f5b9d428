using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A volume; SI value in m3, never negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<Volume>))]
public readonly record struct Volume : IQuantity<Volume>, IComparable<Volume>
{
    private Volume(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.Volume;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in L.</summary>
    public double Litres => Unit.Litre.FromSi(Si);

    /// <summary>The value in US liquid qt.</summary>
    public double Quarts => Unit.Quart.FromSi(Si);

    /// <summary>The value in US gal.</summary>
    public double Gallons => Unit.USGallon.FromSi(Si);

    public static bool operator <(Volume left, Volume right) => left.Si < right.Si;

    public static bool operator >(Volume left, Volume right) => left.Si > right.Si;

    public static bool operator <=(Volume left, Volume right) => left.Si <= right.Si;

    public static bool operator >=(Volume left, Volume right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static Volume FromSi(double value) => new(Finite.NotNegative(value));

    /// <summary>From a value in L.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Volume FromLitres(double value) => FromSi(Unit.Litre.ToSi(value));

    /// <summary>From a value in US liquid qt.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Volume FromQuarts(double value) => FromSi(Unit.Quart.ToSi(value));

    /// <summary>From a value in US gal.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Volume FromGallons(double value) => FromSi(Unit.USGallon.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(Volume other) => Si.CompareTo(other.Si);
}
