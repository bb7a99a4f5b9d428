namespace Vanehour.Models.Survival;

/// <summary>An age, or another positive quantity, with limits.</summary>
/// <param name="Low">Lower limit; null where the data set none.</param>
/// <param name="Mid">The estimate; null where it is not reached.</param>
/// <param name="High">Upper limit; null where the data set none.</param>
public sealed record AgeInterval(double? Low, double? Mid, double? High);
