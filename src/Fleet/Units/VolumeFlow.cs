using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>A volume flow; SI value in m3/s, never negative.</summary>
[JsonConverter(typeof(QuantityJsonConverter<VolumeFlow>))]
public readonly record struct VolumeFlow : IQuantity<VolumeFlow>, IComparable<VolumeFlow>
{
    private VolumeFlow(double si) => Si = si;

    /// <inheritdoc/>
    public static Dimension Dimension => Dimension.VolumeFlow;

    /// <inheritdoc/>
    public double Si { get; }

    /// <summary>The value in m3/h.</summary>
    public double CubicMetresPerHour => Unit.CubicMetrePerHour.FromSi(Si);

    /// <summary>The value in ft3/min.</summary>
    public double CubicFeetPerMinute => Unit.CubicFootPerMinute.FromSi(Si);

    /// <summary>The value in L/h.</summary>
    public double LitresPerHour => Unit.LitrePerHour.FromSi(Si);

    /// <summary>The value in US liquid qt/h.</summary>
    public double QuartsPerHour => Unit.QuartPerHour.FromSi(Si);

    public static bool operator <(VolumeFlow left, VolumeFlow right) => left.Si < right.Si;

    public static bool operator >(VolumeFlow left, VolumeFlow right) => left.Si > right.Si;

    public static bool operator <=(VolumeFlow left, VolumeFlow right) => left.Si <= right.Si;

    public static bool operator >=(VolumeFlow left, VolumeFlow right) => left.Si >= right.Si;

    /// <inheritdoc/>
    public static VolumeFlow FromSi(double value) => new(Finite.NotNegative(value));

    /// <summary>From a value in m3/h.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static VolumeFlow FromCubicMetresPerHour(double value) => FromSi(Unit.CubicMetrePerHour.ToSi(value));

    /// <summary>From a value in ft3/min.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static VolumeFlow FromCubicFeetPerMinute(double value) => FromSi(Unit.CubicFootPerMinute.ToSi(value));

    /// <summary>From a value in L/h.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static VolumeFlow FromLitresPerHour(double value) => FromSi(Unit.LitrePerHour.ToSi(value));

    /// <summary>From a value in US liquid qt/h.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or not possible for this quantity.</exception>
    public static VolumeFlow FromQuartsPerHour(double value) => FromSi(Unit.QuartPerHour.ToSi(value));

    /// <inheritdoc/>
    public int CompareTo(VolumeFlow other) => Si.CompareTo(other.Si);
}
