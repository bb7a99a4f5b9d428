namespace Vanehour.Models.Findings;

/// <summary>On which side of what is wanted a value lies, where a finding can mean both.</summary>
public enum FindingSide
{
    Either,
    Low,
    High,
}
