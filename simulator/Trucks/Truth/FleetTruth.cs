using System.Collections.Immutable;

namespace Vanehour.Simulator;

/// <summary>What is true of a simulated fleet. Only scoring may read it.</summary>
/// <param name="Faults">Faults, in order of truck and onset.</param>
/// <param name="Lives">Lives, in order of truck and fitting.</param>
/// <param name="Checks">Start-up checks that the crews made, in order of truck and time.</param>
public sealed record FleetTruth(ImmutableArray<TruthFault> Faults, ImmutableArray<TruthLife> Lives, ImmutableArray<TruthCheck> Checks)
{
    /// <summary>What was injected into the telemetry, in order of truck and beginning; empty without dirt.</summary>
    public ImmutableArray<GatewayEvent> Gateway { get; init; } = [];

    /// <summary>Where vanes began to wear faster, in order of truck.</summary>
    public ImmutableArray<TruthDrift> Drifts { get; init; } = [];

    /// <summary>When trucks stayed in, in order of truck and time.</summary>
    public ImmutableArray<TruthStay> Stays { get; init; } = [];
}
