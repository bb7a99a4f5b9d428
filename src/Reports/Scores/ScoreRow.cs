namespace Vanehour.Reports.Scores;

/// <summary>How often one kind of fault was found.</summary>
/// <param name="Name">The fault.</param>
/// <param name="Judged">How many were judged, 0 or more.</param>
/// <param name="Found">How many of them were found.</param>
/// <param name="FoundByThresholds">How many of them fixed thresholds found.</param>
public sealed record ScoreRow(string Name, int Judged, int Found, int FoundByThresholds);
