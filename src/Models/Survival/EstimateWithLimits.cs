namespace Vanehour.Models.Survival;

/// <summary>An estimate with limits, any of which the data may leave open, in the unit of whatever holds it; unlike <see cref="LowMidHigh"/>, which has all three.</summary>
/// <param name="Low">Lower limit; null where the data set none.</param>
/// <param name="Mid">The estimate; null where it is not reached.</param>
/// <param name="High">Upper limit; null where the data set none.</param>
public sealed record EstimateWithLimits(double? Low, double? Mid, double? High);
