namespace Vanehour.Models.Rounds;

/// <summary>By what a check counts as done.</summary>
public enum RoundEvidence
{
    /// <summary>A service record of kind round that names the round or the check.</summary>
    RoundMark,

    /// <summary>A service record of the very work.</summary>
    ServiceRecord,

    /// <summary>A start-up check seen in the data.</summary>
    StartUpCheck,
}
