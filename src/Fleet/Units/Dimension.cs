namespace Vanehour.Fleet.Units;

/// <summary>What a unit measures. Gauge and absolute pressure share the unit and differ by type and name.</summary>
public enum Dimension
{
    /// <summary>A truth value, 0 or 1.</summary>
    Flag,

    /// <summary>Pressure, SI unit Pa.</summary>
    Pressure,

    /// <summary>Thermodynamic temperature, SI unit K.</summary>
    Temperature,

    /// <summary>Volume, SI unit m3.</summary>
    Volume,

    /// <summary>Volume flow, SI unit m3/s.</summary>
    VolumeFlow,

    /// <summary>Length, SI unit m.</summary>
    Length,

    /// <summary>Duration, SI unit s.</summary>
    Duration,

    /// <summary>Rotational speed in revolutions, SI unit 1/s.</summary>
    RotationalSpeed,
}
