using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Scoring.Drills;

/// <summary>Causes in the same part of the machine; one taken for another earns part of the points.</summary>
/// <param name="Name">The part.</param>
/// <param name="Causes">Its causes.</param>
public sealed record DrillCauseGroup(string Name, ImmutableArray<Cause> Causes);
