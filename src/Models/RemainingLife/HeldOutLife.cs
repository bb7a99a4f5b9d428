namespace Vanehour.Models.RemainingLife;

/// <summary>A prediction for a unit by a model that had not learned from it, beside what came true.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Age">Its age then, in units of age.</param>
/// <param name="Predicted">The prediction, between 0 and the cap.</param>
/// <param name="CameTrue">What was left, no more than the cap.</param>
public sealed record HeldOutLife(string Unit, double Age, double Predicted, double CameTrue);
