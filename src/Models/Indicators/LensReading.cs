namespace Vanehour.Models.Indicators;

/// <summary>How far a pump's latest runs lie from something, conditions taken into account.</summary>
/// <param name="Deviation">Weighted mean of the runs' deviation, in the indicator's unit.</param>
/// <param name="StandardError">Its standard error, in the indicator's unit.</param>
/// <param name="Runs">How many runs.</param>
public sealed record LensReading(double Deviation, double StandardError, int Runs);
