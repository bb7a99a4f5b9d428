namespace Vanehour.Fleet.Runs;

/// <summary>What was repaired or doubted in a run.</summary>
public enum RunNote
{
    /// <summary>A silence of up to ten minutes inside the run was bridged because the meter agreed.</summary>
    GapBridged,

    /// <summary>The meter went back, jumped or disagreed with the engaged time; the engaged time counts.</summary>
    MeterDisagrees,

    /// <summary>No meter reading; the engaged time counts.</summary>
    MeterMissing,

    /// <summary>The power take-off signal was missing; the run was inferred from meter or speed.</summary>
    PtoInferred,

    /// <summary>The oil counter went back or the level rose: a refill or a reset was taken out.</summary>
    OilRefilled,

    /// <summary>No pump speed: the run's flow cannot be corrected to rated speed.</summary>
    SpeedMissing,

    /// <summary>Physically possible but implausible values were left out of the features.</summary>
    SpikesRemoved,

    /// <summary>A sensor gave one exact value where it should vary.</summary>
    SensorStuck,

    /// <summary>The run goes on into a silence longer than ten minutes; its end is the last sample heard.</summary>
    EndNotHeard,
}
