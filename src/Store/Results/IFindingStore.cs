namespace Vanehour.Store.Results;

/// <summary>Keeps findings through their life, from opening to closing.</summary>
public interface IFindingStore
{
    /// <summary>Every finding as kept, in order of since, then id.</summary>
    IReadOnlyList<FindingDocument> Read();

    /// <summary>In one transaction: adds or replaces by id.</summary>
    void Save(IReadOnlyList<FindingDocument> findings);
}
