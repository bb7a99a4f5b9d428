namespace Vanehour.Scoring;

/// <summary>How soon vanes that began to wear faster were found: by VacuumFading or VanesNearLimit that opened after it.</summary>
/// <param name="Drifts">How many had the whole time before the end.</param>
/// <param name="WithinH">The time, PTO hours.</param>
/// <param name="Found">Share found within it.</param>
/// <param name="MedianH">Median PTO hours to the finding, of those found at all; null where none was.</param>
/// <param name="Control">The same share on the other trucks, from the median instant of the drifts on: what would have opened anyhow.</param>
public sealed record DriftScore(int Drifts, double WithinH, ShareWithInterval Found, double? MedianH, ShareWithInterval Control);
