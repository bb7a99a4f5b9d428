using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>A likely cause.</summary>
/// <param name="Cause">Which.</param>
/// <param name="Weight">Its share of the evidence, 0..1; the weights of a finding sum to 1.</param>
public sealed record RankedCause(Cause Cause, double Weight);
