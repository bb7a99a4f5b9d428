namespace Vanehour.Models.Findings;

/// <summary>A sign as it was and as it is.</summary>
/// <param name="Sign">Which.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Usual">As it was before the finding began.</param>
/// <param name="Recent">As it is.</param>
/// <param name="Unit">The unit of both.</param>
public sealed record SignReading(Sign Sign, SignState State, double Usual, double Recent, string Unit);
