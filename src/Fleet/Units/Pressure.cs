using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A pressure relative to ambient: a gauge pressure, or a vacuum below ambient. Which of the two is said by the name of whatever holds it.</summary>
[JsonConverter(typeof(QuantityJsonConverter<Pressure>))]
public readonly record struct Pressure : IQuantity<Pressure>, IComparable<Pressure>
{
    private Pressure(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.Pressure;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in kPa.</summary>
    public double Kilopascals => Unit.Kilopascal.FromSi(Si);

    /// <summary>The value in inHg.</summary>
    public double InchesOfMercury => Unit.InchOfMercury.FromSi(Si);

    /// <summary>The value in psi.</summary>
    public double Psi => Unit.Psi.FromSi(Si);

    public static bool operator <(Pressure left, Pressure right) => left.Si < right.Si;

    public static bool operator >(Pressure left, Pressure right) => left.Si > right.Si;

    public static bool operator <=(Pressure left, Pressure right) => left.Si <= right.Si;

    public static bool operator >=(Pressure left, Pressure right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static Pressure FromSi(double value) => new(Finite.Check(value));

    /// <summary>From a value in kPa.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Pressure FromKilopascals(double value) => FromSi(Unit.Kilopascal.ToSi(value));

    /// <summary>From a value in inHg.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Pressure FromInchesOfMercury(double value) => FromSi(Unit.InchOfMercury.ToSi(value));

    /// <summary>From a value in psi.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static Pressure FromPsi(double value) => FromSi(Unit.Psi.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(Pressure other) => Si.CompareTo(other.Si);
}
