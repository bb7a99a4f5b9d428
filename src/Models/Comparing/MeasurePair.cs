using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Comparing;

/// <summary>Two pump models compared by one measure.</summary>
/// <param name="A">One, the earlier by name.</param>
/// <param name="B">The other.</param>
/// <param name="PAdjusted">p of the t test over all pairs of the measure by Holm's method, 0..1; null when nothing can be compared.</param>
/// <param name="Verdict">What that says.</param>
/// <param name="PumpsNeeded">Pumps of each model with which a difference of the size looked for would show with the chance wanted; null where the spread from pump to pump is not known.</param>
/// <param name="Sentence">The verdict in plain words.</param>
public sealed record MeasurePair(string A, string B, double? PAdjusted, PairVerdict Verdict, int? PumpsNeeded, string Sentence);
