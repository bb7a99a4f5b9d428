namespace Vanehour.Models.ChangePoints;

/// <summary>A change in a row of values.</summary>
/// <param name="Kind">Step or drift.</param>
/// <param name="After">Position of the last value before the change.</param>
/// <param name="Size">Step: the jump. Drift: what the change of slope makes by the last value. In the values' unit.</param>
/// <param name="StandardError">Of <paramref name="Size"/>, in the same unit, given where the change lies.</param>
/// <param name="Evidence">By how much the sum of squares falls, over the noise variance: about 2 ln of the likelihood ratio.</param>
/// <param name="Preference">By how much it falls further than with the other kind of change at its best place; 0 or more.</param>
public sealed record ChangePoint(ChangeKind Kind, int After, double Size, double StandardError, double Evidence, double Preference);
