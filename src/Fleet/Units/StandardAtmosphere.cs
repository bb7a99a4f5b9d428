namespace Vanehour.Fleet.Units;

/// <summary>The air pressure to expect at a height when no barometer is at hand.</summary>
/// <remarks>[ISO2533] ISO 2533:1975, Standard Atmosphere, the troposphere layer (0 to 11 km, lapse rate 6.5 K/km); constants from memory.</remarks>
public static class StandardAtmosphere
{
    private const double SeaLevelPa = 101325;
    private const double SeaLevelK = 288.15;
    private const double LapseKPerM = 0.0065;
    private const double Gravity = 9.80665;
    private const double GasConstantJPerKgK = 287.05287;
    private const double EarthRadiusM = 6356766;

    /// <summary>Pressure at a geometric elevation.</summary>
    /// <param name="elevation">Between -5 km and 11 km.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside that range.</exception>
    public static AbsolutePressure AtElevation(Length elevation)
    {
        var z = elevation.Metres;
        if (z is < -5000 or > 11000)
        {
            throw new ArgumentOutOfRangeException(nameof(elevation), z, "The elevation must lie between -5 000 m and 11 000 m.");
        }

        var geopotentialM = EarthRadiusM * z / (EarthRadiusM + z);
        var ratio = 1 - (LapseKPerM * geopotentialM / SeaLevelK);
        return AbsolutePressure.FromSi(SeaLevelPa * Math.Pow(ratio, Gravity / (GasConstantJPerKgK * LapseKPerM)));
    }
}
