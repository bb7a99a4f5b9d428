namespace Vanehour.Store.Results;

/// <summary>Keeps findings through their life, from opening to closing.</summary>
public interface IFindingStore
{
    /// <summary>Every finding as kept, in order of since, then id.</summary>
    IReadOnlyList<FindingDocument> Read();

    /// <summary>In one transaction: adds or replaces by id.</summary>
    void Save(IReadOnlyList<FindingDocument> findings);

    /// <summary>
    /// Reads, decides and keeps in one transaction, so that nothing that another process writes meanwhile is lost. The deciding must be quick: it holds the
    /// write lock.
    /// </summary>
    /// <param name="change">Given every finding in order of since, then id; returns those to add or replace by id.</param>
    void Update(Func<IReadOnlyList<FindingDocument>, IReadOnlyList<FindingDocument>> change);
}
