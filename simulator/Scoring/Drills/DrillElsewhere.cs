using Vanehour.Fleet;

namespace Vanehour.Scoring.Drills;

/// <summary>A wrong answer that tempts.</summary>
/// <param name="Cause">The wrong cause; null: to take it for nothing.</param>
/// <param name="Tempting">What points there.</param>
/// <param name="RuledOutBy">What rules it out.</param>
public sealed record DrillElsewhere(Cause? Cause, string Tempting, string RuledOutBy);
