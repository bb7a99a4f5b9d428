using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Tests.Moving;

/// <summary>Samples to move about: invented, every signal a function of the instant, some left out.</summary>
internal static class Gateway
{
    public const long StartMs = 1_767_340_800_000;

    public static Sample At(string truck, int n)
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, Math.Sin(n) * 5);
        values.Set(Signal.PtoHours, 4000 + (n / 3.0));
        if (n % 3 == 0)
        {
            values.Set(Signal.Pto, n % 2);
            values.Set(Signal.PumpTemp, -60 + (n % 460) / 1.1);
        }

        return new Sample(truck, StartMs + (n * 1001L), values);
    }

    public static IReadOnlyList<Sample> Of(string truck, int count, int first = 0) => [.. Enumerable.Range(first, count).Select(n => At(truck, n))];

    public static async Task StoreAsync(string folder, params IReadOnlyList<Sample>[] batches)
    {
        using var data = DataFolder.Open(folder);
        foreach (var batch in batches)
        {
            await data.Samples.WriteAsync(batch, default);
        }
    }

    public static async Task<List<Sample>> ReadAsync(string folder, string truck)
    {
        using var data = DataFolder.Open(folder);
        return await ReadAsync(data.Samples, truck);
    }

    public static async Task<List<Sample>> ReadAsync(ITelemetryStore store, string truck)
    {
        var samples = new List<Sample>();
        await foreach (var sample in store.ReadAsync(truck, 0, long.MaxValue, default))
        {
            samples.Add(sample);
        }

        return samples;
    }

    public static async Task<long> CountAsync(string folder)
    {
        using var data = DataFolder.Open(folder);
        return (await data.Samples.TrucksAsync(default)).Sum(t => t.Samples);
    }
}
