namespace Vanehour.Models.Findings;

/// <summary>What closed a finding.</summary>
public enum FindingClosing
{
    /// <summary>The data no longer showed it.</summary>
    Data,

    /// <summary>A person, who said what was found.</summary>
    Person,

    /// <summary>A service record that ended the pump's life.</summary>
    ServiceRecord,
}
