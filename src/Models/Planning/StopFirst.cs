using System.Collections.Immutable;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Planning;

/// <summary>A truck with open findings that say stop: they come before any plan.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="Kinds">The kinds of finding, longest open first.</param>
/// <param name="Check">What to check first; null where nothing is named.</param>
/// <param name="Caution">The caution that goes with it; null with it.</param>
public sealed record StopFirst(string Truck, ImmutableArray<FindingKind> Kinds, string? Check, string? Caution);
