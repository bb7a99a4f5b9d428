namespace Vanehour.Models.Findings;

/// <summary>A number that speaks for a finding.</summary>
/// <param name="Indicator">What was measured, in words.</param>
/// <param name="Value">The value.</param>
/// <param name="Unit">Its unit's symbol.</param>
/// <param name="ExpectedLow">Lower end of what was expected, or null where open.</param>
/// <param name="ExpectedHigh">Upper end of what was expected, or null where open.</param>
public sealed record Evidence(string Indicator, double Value, string Unit, double? ExpectedLow, double? ExpectedHigh);
