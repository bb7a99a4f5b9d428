using Vanehour.Fleet;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>Short ways to write samples down and to read a store back.</summary>
internal static class Samples
{
    /// <summary>2026-01-02 08:00 UTC; any instant would do.</summary>
    public const long Start = 1767340800000;

    public static Sample At(string truck, long atMs, params ReadOnlySpan<(Signal Signal, double Value)> values)
    {
        var slots = SignalValues.Empty;
        foreach (var (signal, value) in values)
        {
            slots.Set(signal, value);
        }

        return new Sample(truck, atMs, slots);
    }

    /// <summary>A sample every 10 s, with a vacuum that tells them apart.</summary>
    public static Sample[] Series(string truck, int count, long fromMs = Start) =>
        [.. Enumerable.Range(0, count).Select(i => At(truck, fromMs + (i * 10_000L), (Signal.Vacuum, i % 1000 / 10.0)))];

    public static Task WriteAsync(this ITelemetryStore store, params Sample[] samples) => store.WriteAsync(samples, CancellationToken.None);

    public static async Task<List<Sample>> ReadAsync(
        this ITelemetryStore store, string truck, long fromMs = long.MinValue, long toMs = long.MaxValue)
    {
        var samples = new List<Sample>();
        await foreach (var sample in store.ReadAsync(truck, fromMs, toMs, CancellationToken.None))
        {
            samples.Add(sample);
        }

        return samples;
    }

    public static Task<IReadOnlyList<TruckExtent>> TrucksAsync(this ITelemetryStore store) => store.TrucksAsync(CancellationToken.None);

    public static Task<IReadOnlyList<TouchedTruck>> TouchedAsync(this ITelemetryStore store) => store.TouchedAsync(CancellationToken.None);

    public static Task SettleAsync(this ITelemetryStore store, TouchedTruck touched) => store.SettleAsync(touched, CancellationToken.None);

    /// <summary>Settles whatever is touched now.</summary>
    public static async Task SettleAllAsync(this ITelemetryStore store)
    {
        foreach (var touched in await store.TouchedAsync())
        {
            await store.SettleAsync(touched);
        }
    }
}
