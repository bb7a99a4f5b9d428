namespace Vanehour.Fleet;

/// <summary>What a service record says was done. Files write them in lower case with underscores, as vane_width.</summary>
public enum ServiceKind
{
    /// <summary>A planned rebuild: ends the life running.</summary>
    Rebuild,

    /// <summary>The pump failed or was found past its limit: ends the life running.</summary>
    Failure,

    /// <summary>A pump was put on; serial and model are given.</summary>
    Fitted,

    /// <summary>The pump was taken off in working order: ends the life running.</summary>
    Removed,

    /// <summary>A vane width was measured; value in m.</summary>
    VaneWidth,

    /// <summary>Oil was filled; value in m3.</summary>
    OilFill,

    /// <summary>The vacuum relief valve was set; value in Pa.</summary>
    ReliefVacuumSet,

    /// <summary>The pressure relief valve was set; value in Pa.</summary>
    ReliefPressureSet,

    /// <summary>A hand reading beside the sensor; value in the SI unit of its unit.</summary>
    GaugeCheck,
    Flush,
    InletFilter,
    FloatShutoff,
    Hose,
    Gasket,
    Coupling,
    GearboxOil,
    Deodoriser,
    Inspection,

    /// <summary>The hour meter was replaced; value is the new meter's reading in h.</summary>
    MeterReplaced,

    /// <summary>A round was done; the note names it.</summary>
    Round,
}
