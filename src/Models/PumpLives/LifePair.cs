namespace Vanehour.Models.PumpLives;

/// <summary>Two pump models compared by how long they last.</summary>
/// <param name="A">One, the earlier by name.</param>
/// <param name="B">The other.</param>
/// <param name="PAdjusted">Log-rank p over all pairs by Holm's method, 0..1; null when nothing can be compared.</param>
/// <param name="Verdict">What that says.</param>
/// <param name="FailuresNeeded">Failures of both together with which a difference of the size looked for would show with the chance wanted; null where no distribution tells.</param>
/// <param name="LivesNeeded">Lives that it takes to see so many, at the share that has failed so far; null where that is not known.</param>
/// <param name="Sentence">The verdict in plain words.</param>
public sealed record LifePair(string A, string B, double? PAdjusted, PairVerdict Verdict, int? FailuresNeeded, int? LivesNeeded, string Sentence);
