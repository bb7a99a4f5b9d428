using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Runs;
using Vanehour.Store.Results;
using Vanehour.Store.Runs;

namespace Vanehour.Models.Tests.Synthetic;

/// <summary>The stores an analysis needs, in memory, holding a synthetic fleet.</summary>
public sealed class MemoryStores(SyntheticFleet fleet) : IFleetRegister, IRunStore, IResultStore, IFindingStore
{
    private readonly Dictionary<string, FindingDocument> _findings = new(StringComparer.Ordinal);
    private readonly SortedDictionary<DateTimeOffset, IReadOnlyList<ResultDocument>> _results = [];

    public int Analyses => _results.Count;

    public IReadOnlyList<PumpModel> PumpModels() => [fleet.Model];

    public IReadOnlyList<Truck> Trucks() => fleet.Trucks;

    public IReadOnlyList<ServiceRecord> ServiceRecords(string? truck = null) =>
        [.. fleet.Records.Where(r => truck is null || r.Truck == truck).OrderBy(r => r.At)];

    public int Upsert(IReadOnlyCollection<PumpModel> models, IReadOnlyCollection<Truck> trucks, IReadOnlyCollection<ServiceRecord> records) =>
        throw new NotSupportedException();

    public IReadOnlyList<Run> Read(string truck, DateTimeOffset? from = null, DateTimeOffset? to = null) =>
        [.. fleet.RunsOf(truck).Where(r => (from is null || r.Start >= from) && (to is null || r.Start < to))];

    public DateTimeOffset? SettledAt(string truck) => fleet.End;

    public void Replace(string truck, DateTimeOffset from, IReadOnlyList<Run> runs, DateTimeOffset? settledAt) => throw new NotSupportedException();

    public string? BasisOf(string truck) => throw new NotSupportedException();

    public void NoteBasis(string truck, string basis) => throw new NotSupportedException();

    public void Save(DateTimeOffset asOf, IReadOnlyList<ResultDocument> documents, int keepAnalyses)
    {
        _results[asOf] = documents;
        while (_results.Count > keepAnalyses)
        {
            _results.Remove(_results.Keys.First());
        }
    }

    public DateTimeOffset? LatestAsOf() => _results.Count == 0 ? null : _results.Keys.Last();

    public IReadOnlyList<ResultDocument> Read(DateTimeOffset asOf, string kind) =>
        [.. _results[asOf].Where(d => d.Kind == kind).OrderBy(d => d.Key, StringComparer.Ordinal)];

    public ResultDocument? Read(DateTimeOffset asOf, string kind, string key) => _results[asOf].FirstOrDefault(d => d.Kind == kind && d.Key == key);

    IReadOnlyList<FindingDocument> IFindingStore.Read() =>
        [.. _findings.Values.OrderBy(f => f.SinceMs).ThenBy(f => f.Id, StringComparer.Ordinal)];

    public void Save(IReadOnlyList<FindingDocument> findings)
    {
        foreach (var finding in findings)
        {
            _findings[finding.Id] = finding;
        }
    }

    public void Update(Func<IReadOnlyList<FindingDocument>, IReadOnlyList<FindingDocument>> change) => Save(change(((IFindingStore)this).Read()));
}
