using FsCheck;
using FsCheck.Fluent;
using Vanehour.Fleet;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>Order of arrival changes nothing.</summary>
public abstract partial class TelemetryStoreConformance
{
    private const int Cases = 40;

    // One true value for each (truck, instant, signal), sent in any number of partial messages, some twice, in any order and in any batches.
    private static Gen<Sample[][]> Deliveries => Facts.SelectMany(facts => Shuffled(facts, revisions: 1)).SelectMany(samples => Split(samples));

    // The same, but messages contradict each other.
    private static Gen<Sample[][]> Contradictions => Facts.SelectMany(facts => Shuffled(facts, revisions: 3)).SelectMany(samples => Split(samples));

    private static Gen<(int Truck, int Instant, int Signal)> Fact => Gen.Choose(0, 2).SelectMany(
        _ => Gen.Choose(0, 6).SelectMany(_ => Gen.Choose(0, SignalInfo.Count - 1), (instant, signal) => (instant, signal)),
        (truck, rest) => (truck, rest.instant, rest.signal));

    private static Gen<(int Truck, int Instant, int Signal)[]> Facts => Fact.ArrayOf();

    [SkippableFact]
    public void AnyOrderAndAnyBatches_StoreTheSame() => Check.One(
        Config.QuickThrowOnFailure.WithMaxTest(Cases),
        Prop.ForAll(Deliveries.ToArbitrary(), StoresWhatASimpleDictionaryHoldsAsync));

    [SkippableFact]
    public void AnyBatches_KeepTheLastToArrive() => Check.One(
        Config.QuickThrowOnFailure.WithMaxTest(Cases),
        Prop.ForAll(Contradictions.ToArbitrary(), StoresWhatASimpleDictionaryHoldsAsync));

    private static double Value(int truck, int instant, int signal, int revision) => (truck * 100) + instant + (signal / 16.0) + (revision / 1024.0);

    // A message carries one fact, or two of the same instant.
    private static Gen<Sample[]> Shuffled((int Truck, int Instant, int Signal)[] facts, int revisions)
    {
        var samples = facts.Select((f, i) =>
        {
            var sample = SignalValues.Empty;
            sample[f.Signal] = Value(f.Truck, f.Instant, f.Signal, i % revisions);
            if (i % 2 == 1)
            {
                var other = (f.Signal + i) % SignalInfo.Count;
                sample[other] = Value(f.Truck, f.Instant, other, i % revisions);
            }

            return new Sample("T" + f.Truck, Start + f.Instant, sample);
        }).ToArray();
        return Gen.Shuffle(samples.Concat(samples.Take(samples.Length / 3)));
    }

    private static Gen<Sample[][]> Split(Sample[] samples) =>
        Gen.Choose(1, Math.Max(1, samples.Length)).Select(size => samples.Chunk(size).ToArray());

    private async Task<bool> StoresWhatASimpleDictionaryHoldsAsync(Sample[][] batches)
    {
        await using var place = await CreateAsync();
        foreach (var batch in batches)
        {
            await place.Store.WriteAsync(batch);
        }

        // The slow obvious twin.
        var expected = new SortedDictionary<(string, long), SignalValues>();
        foreach (var sample in batches.SelectMany(b => b))
        {
            var merged = expected.GetValueOrDefault((sample.Truck, sample.UnixMs), SignalValues.Empty);
            merged.Merge(sample.Values);
            expected[(sample.Truck, sample.UnixMs)] = merged;
        }

        var stored = new List<Sample>();
        foreach (var truck in await place.Store.TrucksAsync())
        {
            var samples = await place.Store.ReadAsync(truck.Truck);
            Assert.Equal((truck.Samples, truck.FirstMs, truck.LastMs), (samples.Count, samples[0].UnixMs, samples[^1].UnixMs));
            stored.AddRange(samples);
        }

        Assert.Equal(expected.Select(e => new Sample(e.Key.Item1, e.Key.Item2, e.Value)), stored);
        return true;
    }
}
