namespace Vanehour.Simulator;

/// <summary>Which faults a simulated fleet carries.</summary>
public enum FaultScenario
{
    /// <summary>None: every truck is healthy and no vanes come near their limit.</summary>
    None,

    /// <summary>The demonstration's pattern of twelve trucks, repeated in larger fleets with other onsets and severities.</summary>
    Default,
}
