using System.Runtime.CompilerServices;
using Vanehour.Fleet;
using Vanehour.Store;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Tests.Memory;

/// <summary>Keeps samples in memory by the rules of the real stores; can be told to be away.</summary>
public sealed class InMemoryTelemetryStore : ITelemetryStore
{
    private readonly Lock gate = new();
    private readonly Dictionary<(string Truck, long Ms), SignalValues> samples = [];

    /// <summary>Whether it takes nothing.</summary>
    public bool IsAway { get; set; }

    /// <summary>Calls made to it, failed ones included.</summary>
    public int Writes { get; private set; }

    /// <summary>Samples written, those written again included.</summary>
    public int SamplesWritten { get; private set; }

    public int Count
    {
        get
        {
            lock (gate)
            {
                return samples.Count;
            }
        }
    }

    public double? Find(string truck, long ms, Signal signal)
    {
        lock (gate)
        {
            return samples.TryGetValue((truck, ms), out var values) ? values.Get(signal) : null;
        }
    }

    public Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(samples);
        lock (gate)
        {
            Writes++;
            if (IsAway)
            {
                throw new StoreUnavailableException("The store is away.");
            }

            SamplesWritten += samples.Count;
            foreach (var sample in samples)
            {
                var values = this.samples.GetValueOrDefault((sample.Truck, sample.UnixMs), SignalValues.Empty);
                values.Merge(sample.Values);
                this.samples[(sample.Truck, sample.UnixMs)] = values;
            }
        }

        return Task.CompletedTask;
    }

    public async IAsyncEnumerable<Sample> ReadAsync(
        string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        Sample[] found;
        lock (gate)
        {
            found = [.. samples.Where(s => s.Key.Truck == truck && s.Key.Ms >= fromMs && s.Key.Ms < toMs)
                .OrderBy(s => s.Key.Ms).Select(s => new Sample(s.Key.Truck, s.Key.Ms, s.Value))];
        }

        foreach (var sample in found)
        {
            yield return sample;
        }

        await Task.CompletedTask;
    }

    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken)
    {
        lock (gate)
        {
            return Task.FromResult<IReadOnlyList<TruckExtent>>([.. samples.Keys.GroupBy(k => k.Truck, StringComparer.Ordinal)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => new TruckExtent(g.Key, g.Count(), g.Min(k => k.Ms), g.Max(k => k.Ms)))]);
        }
    }

    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => throw new NotSupportedException();

    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken) => throw new NotSupportedException();
}
