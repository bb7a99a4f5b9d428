using System.Collections.Immutable;

namespace Vanehour.Simulator;

/// <summary>What is true of a simulated fleet. Only scoring may read it.</summary>
/// <param name="Faults">Faults, in order of truck and onset.</param>
/// <param name="Lives">Lives, in order of truck and fitting.</param>
public sealed record FleetTruth(ImmutableArray<TruthFault> Faults, ImmutableArray<TruthLife> Lives);
