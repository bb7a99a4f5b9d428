using Vanehour.Fleet;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// A batch in the order of its keys: per truck by time, and by arrival where instants are equal. Writing in any other order makes
/// SQLite jump between pages, which is several times slower.
/// </summary>
internal sealed class SampleBatch
{
    private readonly IReadOnlyList<Sample> samples;
    private readonly Dictionary<string, List<(long AtMs, int Index)>> byTruck = new(StringComparer.Ordinal);

    /// <summary>Sorts <paramref name="samples"/>; those without any value say nothing and are left out.</summary>
    /// <exception cref="ArgumentException">A sample without a truck, or with an infinite value.</exception>
    public SampleBatch(IReadOnlyList<Sample> samples)
    {
        this.samples = samples;
        for (var i = 0; i < samples.Count; i++)
        {
            var sample = samples[i];
            if (Check(sample))
            {
                Keys(sample.Truck).Add((sample.UnixMs, i));
            }
        }

        foreach (var keys in byTruck.Values)
        {
            keys.Sort();
        }
    }

    /// <summary>The trucks in the batch.</summary>
    public IReadOnlyCollection<string> Trucks => byTruck.Keys;

    /// <summary>A truck's samples in order of time, each instant once with its signals merged, the last to arrive winning.</summary>
    public IEnumerable<(long AtMs, SignalValues Values)> Of(string truck)
    {
        var keys = byTruck[truck];
        for (var i = 0; i < keys.Count; i++)
        {
            var (at, index) = keys[i];
            var values = samples[index].Values;
            for (; i + 1 < keys.Count && keys[i + 1].AtMs == at; i++)
            {
                values.Merge(samples[keys[i + 1].Index].Values);
            }

            yield return (at, values);
        }
    }

    private static bool Check(in Sample sample)
    {
        if (string.IsNullOrEmpty(sample.Truck))
        {
            throw new ArgumentException("A sample names no truck.", nameof(sample));
        }

        var values = sample.Values;
        var hasValue = false;
        foreach (var value in values)
        {
            if (double.IsInfinity(value))
            {
                throw new ArgumentException($"A sample of {sample.Truck} has an infinite value.", nameof(sample));
            }

            hasValue |= !double.IsNaN(value);
        }

        return hasValue;
    }

    private List<(long AtMs, int Index)> Keys(string truck)
    {
        if (!byTruck.TryGetValue(truck, out var keys))
        {
            byTruck.Add(truck, keys = []);
        }

        return keys;
    }
}
