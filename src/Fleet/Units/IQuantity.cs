namespace Vanehour.Fleet.Units;

/// <summary>A physical quantity held in its SI unit. Values are finite: factories refuse NaN and infinity.</summary>
/// <typeparam name="TSelf">The quantity itself.</typeparam>
public interface IQuantity<TSelf>
    where TSelf : struct, IQuantity<TSelf>
{
    /// <summary>The dimension this quantity measures.</summary>
    static abstract Dimension Dimension { get; }

    /// <summary>The value in the SI unit of <see cref="Dimension"/>.</summary>
    double Si { get; }

    /// <summary>Makes the quantity from its SI value.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite, or not possible for the quantity.</exception>
    static abstract TSelf FromSi(double value);
}
