namespace Vanehour.Models.Findings;

/// <summary>Where a sign stands against how it was before the finding began.</summary>
public enum SignState
{
    /// <summary>Not measured, or not often enough.</summary>
    Unknown,
    Low,
    Normal,
    High,
}
