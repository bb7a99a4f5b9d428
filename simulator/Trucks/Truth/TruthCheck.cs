namespace Vanehour.Simulator;

/// <summary>What is true of one start-up check.</summary>
public sealed record TruthCheck
{
    public required string Truck { get; init; }

    /// <summary>When the valve was turned to vacuum.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Whether the crew held on until the relief valve lifted or the gauge stood still.</summary>
    public required bool Complete { get; init; }

    /// <summary>Share of the tank that was gas, above 0, at most 1.</summary>
    public required double GasShare { get; init; }

    /// <summary>Share of the as-new net flow at the reference vacuum that was left, 0..1.</summary>
    public required double FlowKept { get; init; }
}
