namespace Vanehour.Simulator;

/// <summary>Which faults a simulated fleet carries.</summary>
public enum FaultScenario
{
    /// <summary>None: every truck is healthy and no vanes come near their limit.</summary>
    None,

    /// <summary>The demonstration's pattern of twelve trucks, repeated in larger fleets with other onsets and severities.</summary>
    Default,

    /// <summary>None, but on every other truck the vanes wear two and a half times as fast from a day about the middle on, and nothing else shows why.</summary>
    Drift,
}
