namespace Vanehour.Models.Findings;

/// <summary>How soon a finding needs a person.</summary>
public enum Urgency
{
    /// <summary>Stop now.</summary>
    Stop,

    /// <summary>This week.</summary>
    Week,

    /// <summary>Later.</summary>
    Later,
}
