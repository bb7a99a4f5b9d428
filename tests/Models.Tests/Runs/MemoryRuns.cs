using Vanehour.Fleet.Runs;
using Vanehour.Store.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>Runs in memory, as the contract says.</summary>
internal sealed class MemoryRuns : IRunStore
{
    private readonly Dictionary<string, List<Run>> runs = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> bases = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DateTimeOffset?> settled = new(StringComparer.Ordinal);

    public IReadOnlyList<Run> Read(string truck, DateTimeOffset? from = null, DateTimeOffset? to = null) =>
        [.. (runs.GetValueOrDefault(truck) ?? []).Where(r => (from is null || r.Start >= from) && (to is null || r.Start < to))];

    public string? BasisOf(string truck) => bases.GetValueOrDefault(truck);

    public void NoteBasis(string truck, string basis) => bases[truck] = basis;

    public DateTimeOffset? SettledAt(string truck) => settled.GetValueOrDefault(truck);

    public void Replace(string truck, DateTimeOffset from, IReadOnlyList<Run> added, DateTimeOffset? settledAt)
    {
        var own = runs.GetValueOrDefault(truck) ?? [];
        own.RemoveAll(r => r.Start >= from);
        own.AddRange(added);
        Assert.Equal(own.OrderBy(r => r.Start).Select(r => r.Start), own.Select(r => r.Start));
        Assert.Equal(own.Count, own.Select(r => r.Start).Distinct().Count());
        runs[truck] = own;
        settled[truck] = settledAt;
    }
}
