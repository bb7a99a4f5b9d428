using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Scoring.Drills;

/// <summary>A finding that was open when the drill began.</summary>
/// <param name="Truck">Its truck.</param>
/// <param name="Kind">What it says.</param>
/// <param name="Since">The first instant whose data shows it.</param>
/// <param name="Causes">Likely causes, likeliest first.</param>
public sealed record DrillFinding(string Truck, FindingKind Kind, DateTimeOffset Since, ImmutableArray<Cause> Causes);
