namespace Vanehour.Fleet;

/// <summary>What a truck can say of its pump at one instant. The values are slots of a <see cref="Sample"/>; the order is part of no file format.</summary>
public enum Signal
{
    /// <summary>The hour meter that turns while the power take-off drives the pump, h.</summary>
    PtoHours,

    /// <summary>Whether the power take-off is engaged, 0 or 1.</summary>
    Pto,

    /// <summary>Vacuum at the pump, kPa below ambient.</summary>
    Vacuum,

    /// <summary>Tank pressure, kPa above ambient.</summary>
    Pressure,

    /// <summary>Pump temperature, Cel.</summary>
    PumpTemp,

    /// <summary>Ambient temperature, Cel.</summary>
    AmbientTemp,

    /// <summary>Pump speed, rpm.</summary>
    PumpSpeed,

    /// <summary>Oil consumed so far, a counter, L.</summary>
    OilUsed,

    /// <summary>Oil in the reservoir, L.</summary>
    OilLevel,

    /// <summary>Barometer, kPa absolute.</summary>
    Baro,
}
