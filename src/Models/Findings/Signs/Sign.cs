namespace Vanehour.Models.Findings;

/// <summary>What is looked at beside the finding itself to tell its causes apart.</summary>
public enum Sign
{
    /// <summary>Oil use against what is expected.</summary>
    OilUse,

    /// <summary>Pump over ambient temperature against what is expected.</summary>
    TemperatureRise,

    /// <summary>Restlessness of the pump temperature under vacuum.</summary>
    TemperatureHunting,

    /// <summary>Mean pump speed under load.</summary>
    Speed,

    /// <summary>Net flow at the reference vacuum in start-up checks.</summary>
    NetFlow,

    /// <summary>Leakage back, over displaced flow, in start-up checks.</summary>
    LeakRatio,

    /// <summary>The vacuum that the fits of start-up checks approach.</summary>
    UltimateVacuum,

    /// <summary>The vacuum at which the relief valve lifts in start-up checks.</summary>
    ReliefLift,

    /// <summary>Highest vacuum of the runs that are no start-up checks.</summary>
    WorkingVacuum,
}
