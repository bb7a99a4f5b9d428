namespace Vanehour.Models.RemainingLife;

/// <summary>What is left of a unit's life at its last age, in units of age.</summary>
/// <param name="Expected">What is expected, between 0 and the cap; at the cap it says "this or more".</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end; null where it lies beyond the cap.</param>
public sealed record RemainingLifePrediction(double Expected, double Low, double? High);
