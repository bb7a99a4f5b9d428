namespace Vanehour.Models.Comparing;

/// <summary>What the trucks of one pump model usually use.</summary>
/// <param name="ByTruck">Each truck's level at the fleet's mean load, L/h; above 0.</param>
/// <param name="SlopeVariance">Variance that the slopes' errors add to the logarithm of them all.</param>
/// <param name="Remark">What could not be done, in a sentence.</param>
internal sealed record OilLevels(IReadOnlyList<double> ByTruck, double SlopeVariance, string? Remark);
