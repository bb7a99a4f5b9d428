using System.Collections.Immutable;

namespace Vanehour.Scoring.Drills;

/// <summary>Everything that the reveal of a drill shows.</summary>
/// <param name="Drill">What the trainees knew, with their answers.</param>
/// <param name="Truth">What is really wrong.</param>
/// <param name="Scores">One a person, best first.</param>
/// <param name="Rule">How points are given, in words.</param>
public sealed record DrillReveal(DrillInfo Drill, DrillTruth Truth, ImmutableArray<DrillScore> Scores, string Rule);
