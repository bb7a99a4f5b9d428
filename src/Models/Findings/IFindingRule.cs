namespace Vanehour.Models.Findings;

/// <summary>Looks for something the data says needs a person.</summary>
public interface IFindingRule
{
    /// <summary>What it finds on a pump now.</summary>
    IEnumerable<FindingDraft> Look(PumpState state);
}
