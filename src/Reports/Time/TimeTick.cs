namespace Vanehour.Reports.Time;

/// <summary>A labelled instant of a time axis.</summary>
/// <param name="Days">Where it lies on the axis, days.</param>
/// <param name="Label">What is written there.</param>
/// <param name="Brief">The same where the year is known and room is short: a January is written as its year.</param>
internal readonly record struct TimeTick(double Days, string Label, string Brief);
