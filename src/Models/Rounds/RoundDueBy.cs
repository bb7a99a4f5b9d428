namespace Vanehour.Models.Rounds;

/// <summary>What makes a check due first.</summary>
public enum RoundDueBy
{
    Calendar,
    Hours,
    Finding,
}
