namespace Vanehour.Simulator.Scenario;

/// <summary>What a truck is in the scenario for.</summary>
internal enum TruckRole
{
    /// <summary>Healthy, with a pump fitted just before the simulation begins.</summary>
    HealthyFresh,

    /// <summary>Healthy, some way into its life.</summary>
    HealthyMidLife,

    /// <summary>Vanes that reach their limit some weeks after the end.</summary>
    NearLimitSoon,

    /// <summary>Vanes that reach their limit a few months after the end.</summary>
    NearLimitLater,

    /// <summary>Oil use that rises.</summary>
    OilHigh,

    /// <summary>An oil line that chokes.</summary>
    OilStarved,

    /// <summary>A pump that runs hot.</summary>
    Hot,

    /// <summary>Healthy, rebuilt at a third of the time.</summary>
    Rebuilt,

    /// <summary>A leak on the tank side.</summary>
    Leaking,
}
