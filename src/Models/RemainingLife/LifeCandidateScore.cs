namespace Vanehour.Models.RemainingLife;

/// <summary>What a candidate missed by on units that it had not learned from.</summary>
/// <param name="Candidate">The candidate.</param>
/// <param name="Rmse">Root mean square of prediction less capped remaining life, each unit counting alike, in units of age.</param>
/// <param name="Se">Standard error of <paramref name="Rmse"/> over units.</param>
public sealed record LifeCandidateScore(LifeCandidate Candidate, double Rmse, double Se);
