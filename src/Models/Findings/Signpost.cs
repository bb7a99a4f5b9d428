namespace Vanehour.Models.Findings;

/// <summary>How strongly a finding shows after one run.</summary>
/// <param name="At">The start of the run.</param>
/// <param name="Strength">0 not at all; it opens at 1 and closes below a half.</param>
/// <param name="Shows">Whether this run shows it by itself.</param>
public readonly record struct Signpost(DateTimeOffset At, double Strength, bool Shows);
