namespace Vanehour.Models;

/// <summary>An estimate with its interval, in the unit of whatever holds it.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="Mid">The estimate.</param>
/// <param name="High">Upper end.</param>
public sealed record LowMidHigh(double Low, double Mid, double High);
