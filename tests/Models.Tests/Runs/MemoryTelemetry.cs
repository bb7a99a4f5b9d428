using System.Runtime.CompilerServices;
using Vanehour.Fleet;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Tests.Runs;

/// <summary>Samples in memory, merged and touched as the contract says.</summary>
internal sealed class MemoryTelemetry : ITelemetryStore
{
    private readonly Dictionary<string, SortedDictionary<long, Sample>> samples = new(StringComparer.Ordinal);
    private readonly Dictionary<string, TouchedTruck> touched = new(StringComparer.Ordinal);
    private long keptFromMs = long.MinValue;
    private long revision;

    /// <summary>From where samples were last read, Unix ms.</summary>
    public long LastReadFromMs { get; private set; }

    /// <summary>What retention does.</summary>
    public void DeleteBefore(long ms)
    {
        keptFromMs = ms;
        foreach (var own in samples.Values)
        {
            foreach (var gone in own.Keys.Where(k => k < ms).ToArray())
            {
                own.Remove(gone);
            }
        }
    }

    public Task WriteAsync(IReadOnlyList<Sample> batch, CancellationToken cancellationToken)
    {
        revision++;
        foreach (var sample in batch)
        {
            if (!samples.TryGetValue(sample.Truck, out var own))
            {
                samples[sample.Truck] = own = [];
            }

            var merged = own.TryGetValue(sample.UnixMs, out var before) ? before.Values : SignalValues.Empty;
            merged.Merge(sample.Values);
            own[sample.UnixMs] = sample with { Values = merged };
            var earliest = touched.TryGetValue(sample.Truck, out var touch) ? Math.Min(touch.EarliestMs, sample.UnixMs) : sample.UnixMs;
            touched[sample.Truck] = new TouchedTruck(sample.Truck, earliest, revision);
        }

        return Task.CompletedTask;
    }

    public async IAsyncEnumerable<Sample> ReadAsync(
        string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        LastReadFromMs = fromMs;
        await Task.CompletedTask;
        foreach (var sample in samples.GetValueOrDefault(truck)?.Values.Where(s => s.UnixMs >= fromMs && s.UnixMs < toMs).ToArray() ?? [])
        {
            cancellationToken.ThrowIfCancellationRequested();
            yield return sample;
        }
    }

    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyList<TruckExtent>>(
            [.. samples.OrderBy(p => p.Key, StringComparer.Ordinal)
                .Select(p => new TruckExtent(p.Key, p.Value.Count, p.Value.Keys.First(), p.Value.Keys.Last()) { KeptFromMs = keptFromMs })]);

    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyList<TouchedTruck>>([.. touched.Values]);

    public Task SettleAsync(TouchedTruck settled, CancellationToken cancellationToken)
    {
        if (touched.TryGetValue(settled.Truck, out var now) && now.Revision == settled.Revision)
        {
            touched.Remove(settled.Truck);
        }

        return Task.CompletedTask;
    }
}
