using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A temperature; SI value in K, never negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<Temperature>))]
public readonly record struct Temperature : IQuantity<Temperature>, IComparable<Temperature>
{
    private Temperature(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.Temperature;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in Cel.</summary>
    public double Celsius => Unit.Celsius.FromSi(Si);

    /// <summary>The value in degF.</summary>
    public double Fahrenheit => Unit.Fahrenheit.FromSi(Si);

    public static bool operator <(Temperature left, Temperature right) => left.Si < right.Si;

    public static bool operator >(Temperature left, Temperature right) => left.Si > right.Si;

    public static bool operator <=(Temperature left, Temperature right) => left.Si <= right.Si;

    public static bool operator >=(Temperature left, Temperature right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static Temperature FromSi(double value) => new(Finite.NotNegative(value));

    /// <summary>From a value in Cel.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Temperature FromCelsius(double value) => FromSi(Unit.Celsius.ToSi(value));

    /// <summary>From a value in degF.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Temperature FromFahrenheit(double value) => FromSi(Unit.Fahrenheit.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(Temperature other) => Si.CompareTo(other.Si);
}
