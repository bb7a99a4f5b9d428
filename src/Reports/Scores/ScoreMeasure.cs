namespace Vanehour.Reports.Scores;

/// <summary>One measure of an evaluation, as it is printed.</summary>
/// <param name="Name">What.</param>
/// <param name="Findings">Its value and interval for the findings.</param>
/// <param name="Thresholds">The same for fixed thresholds.</param>
public sealed record ScoreMeasure(string Name, string Findings, string Thresholds);
