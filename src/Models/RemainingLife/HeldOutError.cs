namespace Vanehour.Models.RemainingLife;

/// <summary>By how much a prediction for a unit missed, made without that unit.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Predicted">The prediction.</param>
/// <param name="Error">What came true less the prediction, in any scale that is kept to.</param>
/// <param name="IsAtLeast">Whether it is only known that no less came true: the unit has not ended.</param>
public readonly record struct HeldOutError(string Unit, double Predicted, double Error, bool IsAtLeast = false);
