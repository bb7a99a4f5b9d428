namespace Vanehour.Store.Results;

/// <summary>Keeps the results of analyses, each with the instant it is true for.</summary>
public interface IResultStore
{
    /// <summary>In one transaction: replaces what an earlier analysis of the same instant saved, and keeps the last <paramref name="keepAnalyses"/> instants.</summary>
    void Save(DateTimeOffset asOf, IReadOnlyList<ResultDocument> documents, int keepAnalyses);

    /// <summary>The instant of the latest analysis, or null when there was none.</summary>
    DateTimeOffset? LatestAsOf();

    /// <summary>The documents of a kind from the analysis at <paramref name="asOf"/>, in order of key (ordinal).</summary>
    IReadOnlyList<ResultDocument> Read(DateTimeOffset asOf, string kind);

    /// <summary>One document of the analysis at <paramref name="asOf"/>; null where there is none of that kind and key.</summary>
    ResultDocument? Read(DateTimeOffset asOf, string kind, string key);
}
