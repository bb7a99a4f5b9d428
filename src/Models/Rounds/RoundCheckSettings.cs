namespace Vanehour.Models.Rounds;

/// <summary>What a fleet does otherwise than the table for one check.</summary>
public sealed record RoundCheckSettings
{
    /// <summary>Calendar days from one time to the next; 0 takes the calendar out, null leaves it as in the table.</summary>
    public int? Days { get; init; }

    /// <summary>PTO hours from one time to the next, h; 0 takes the hours out, null leaves them as in the table.</summary>
    public double? Hours { get; init; }

    /// <summary>Whether the fleet leaves the check out.</summary>
    public bool Off { get; init; }
}
