namespace Vanehour.Models.Findings;

/// <summary>Where a finding is in its life.</summary>
public enum FindingStatus
{
    Open,
    Acknowledged,
    Closed,
}
