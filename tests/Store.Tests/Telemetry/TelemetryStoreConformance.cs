using Vanehour.Fleet;
using Vanehour.Store.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>What every telemetry store must do; a store's own test class derives from this and says how to make one.</summary>
public abstract partial class TelemetryStoreConformance
{
    /// <summary>A new, empty store.</summary>
    protected abstract Task<StoreUnderTest> CreateAsync();

    [SkippableFact]
    public async Task EmptyStore_HasNothing()
    {
        await using var place = await CreateAsync();

        Assert.Empty(await place.Store.ReadAsync("T1"));
        Assert.Empty(await place.Store.TrucksAsync());
        Assert.Empty(await place.Store.TouchedAsync());
    }

    [SkippableFact]
    public async Task EmptyBatch_IsNoError()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync();

        Assert.Empty(await place.Store.TrucksAsync());
    }

    [SkippableFact]
    public async Task EverySignal_ComesBackAsWritten()
    {
        await using var place = await CreateAsync();
        var values = SignalValues.Empty;
        foreach (var info in SignalInfo.All)
        {
            // A third has no finite binary form: a store that rounds shows.
            values.Set(info.Signal, info.Lowest + ((info.Highest - info.Lowest) / 3));
        }

        var sample = new Sample("T1", Start + 1, values);
        await place.Store.WriteAsync(sample);

        Assert.Equal([sample], await place.Store.ReadAsync("T1"));
    }

    [SkippableFact]
    public async Task EachSignalAlone_LeavesTheOthersUnknown()
    {
        await using var place = await CreateAsync();
        Sample[] samples = [.. SignalInfo.All.Select((s, i) => At("T1", Start + i, (s.Signal, s.Highest)))];

        await place.Store.WriteAsync(samples);

        Assert.Equal(samples, await place.Store.ReadAsync("T1"));
    }

    [SkippableFact]
    public async Task LaterBatch_FillsInOtherSignals()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(At("T1", Start, (Signal.Vacuum, 50), (Signal.PtoHours, 1200)));
        await place.Store.WriteAsync(At("T1", Start, (Signal.PumpTemp, 80)));

        var expected = At("T1", Start, (Signal.Vacuum, 50), (Signal.PtoHours, 1200), (Signal.PumpTemp, 80));
        Assert.Equal([expected], await place.Store.ReadAsync("T1"));
    }

    [SkippableFact]
    public async Task SameSignalTwice_LastToArriveWins()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(At("T1", Start, (Signal.Vacuum, 50)));
        await place.Store.WriteAsync(At("T1", Start, (Signal.Vacuum, 40)));

        Assert.Equal([At("T1", Start, (Signal.Vacuum, 40))], await place.Store.ReadAsync("T1"));
    }

    [SkippableFact]
    public async Task SeveralSamplesOfOneKeyInABatch_MergeAndTheLastWins()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(
            At("T1", Start + 1, (Signal.Vacuum, 1)),
            At("T1", Start, (Signal.Vacuum, 50), (Signal.OilLevel, 3)),
            At("T2", Start, (Signal.Vacuum, 10)),
            At("T1", Start, (Signal.PumpTemp, 80)),
            At("T1", Start, (Signal.Vacuum, 40)));

        Sample[] expected =
        [
            At("T1", Start, (Signal.Vacuum, 40), (Signal.OilLevel, 3), (Signal.PumpTemp, 80)),
            At("T1", Start + 1, (Signal.Vacuum, 1)),
        ];
        Assert.Equal(expected, await place.Store.ReadAsync("T1"));
        Assert.Equal(
            [new TruckExtent("T1", 2, Start, Start + 1), new TruckExtent("T2", 1, Start, Start)], await place.Store.TrucksAsync());
    }

    [SkippableFact]
    public async Task SampleWithoutValues_IsNotStored()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(At("T1", Start), At("T2", Start, (Signal.Pto, 0)));

        Assert.Equal([new TruckExtent("T2", 1, Start, Start)], await place.Store.TrucksAsync());
    }

    [SkippableFact]
    public async Task Read_IsHalfOpenAndInOrder()
    {
        await using var place = await CreateAsync();
        var samples = Series("T1", 5);
        await place.Store.WriteAsync([samples[3], samples[0], samples[4], samples[2], samples[1]]);
        await place.Store.WriteAsync(Series("T2", 5));

        Assert.Equal(samples, await place.Store.ReadAsync("T1"));
        Assert.Equal(samples[1..3], await place.Store.ReadAsync("T1", samples[1].UnixMs, samples[3].UnixMs));
        Assert.Equal(samples[1..4], await place.Store.ReadAsync("T1", samples[0].UnixMs + 1, samples[3].UnixMs + 1));
        Assert.Empty(await place.Store.ReadAsync("T1", samples[1].UnixMs, samples[1].UnixMs));
        Assert.Empty(await place.Store.ReadAsync("T1", samples[3].UnixMs, samples[1].UnixMs));
    }

    [SkippableFact]
    public async Task Read_GivesEveryRowOfALongSeriesOnce()
    {
        await using var place = await CreateAsync();

        // A millisecond apart, so that one skipped at a seam between pages shows.
        Sample[] samples = [.. Enumerable.Range(0, 45_000).Select(i => At("T1", Start + i, (Signal.Vacuum, i % 1000 / 10.0)))];
        foreach (var batch in samples.Chunk(10_000))
        {
            await place.Store.WriteAsync(batch);
        }

        Assert.Equal(samples, await place.Store.ReadAsync("T1"));
        Assert.Equal(samples[..40_000], await place.Store.ReadAsync("T1", Start, samples[40_000].UnixMs));
        Assert.Equal([new TruckExtent("T1", 45_000, Start, samples[^1].UnixMs)], await place.Store.TrucksAsync());
    }

    [SkippableFact]
    public async Task Read_StopsWhenCancelled()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 10));

        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () =>
        {
            await foreach (var sample in place.Store.ReadAsync("T1", 0, long.MaxValue, new CancellationToken(canceled: true)))
            {
            }
        });
    }

    [SkippableTheory]
    [InlineData("'")]
    [InlineData("T1'; DROP TABLE sample; --")]
    [InlineData("\"T1\"")]
    [InlineData("%")]
    [InlineData("T_")]
    [InlineData("a,b=c d\\")]
    [InlineData("camion-é-東")]
    public async Task OddTruckNames_AreNamesAndNothingElse(string truck)
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 3));

        await place.Store.WriteAsync(At(truck, Start, (Signal.Vacuum, 7)));

        Assert.Equal([At(truck, Start, (Signal.Vacuum, 7))], await place.Store.ReadAsync(truck));
        Assert.Equal(Series("T1", 3), await place.Store.ReadAsync("T1"));
        Assert.Contains(new TruckExtent(truck, 1, Start, Start), await place.Store.TrucksAsync());
        var touched = Assert.Single(await place.Store.TouchedAsync(), t => t.Truck == truck);
        await place.Store.SettleAsync(touched);
        Assert.Equal(["T1"], (await place.Store.TouchedAsync()).Select(t => t.Truck));
    }

    [SkippableFact]
    public async Task TrucksThatDifferInCase_AreTwo_InOrdinalOrder()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(Series("b", 1).Concat(Series("B", 2)).Concat(Series("a", 3)).ToArray());

        Assert.Equal(["B", "a", "b"], (await place.Store.TrucksAsync()).Select(t => t.Truck));
        Assert.Equal(["B", "a", "b"], (await place.Store.TouchedAsync()).Select(t => t.Truck));
        Assert.Equal([2, 3, 1], (await place.Store.TrucksAsync()).Select(t => t.Samples));
    }

    [SkippableFact]
    public async Task Extents_StayExactUnderMergesDuplicatesAndLateData()
    {
        await using var place = await CreateAsync();
        var store = place.Store;

        await store.WriteAsync(Series("T1", 10));
        await store.WriteAsync(Series("T1", 12)[5..]);
        await store.WriteAsync(At("T1", Start, (Signal.PumpTemp, 80)));
        await store.WriteAsync(At("T1", Start - 5, (Signal.PumpTemp, 80)), At("T1", Start - 5, (Signal.Baro, 101)));

        Assert.Equal([new TruckExtent("T1", 13, Start - 5, Start + 110_000)], await store.TrucksAsync());
    }

    [SkippableFact]
    public async Task Cancelled_StoresNothing()
    {
        await using var place = await CreateAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(
            () => place.Store.WriteAsync(Series("T1", 10), new CancellationToken(canceled: true)));

        Assert.Empty(await place.Store.TrucksAsync());
        Assert.Empty(await place.Store.TouchedAsync());
    }

    [SkippableFact]
    public async Task CancelledHalfWay_StoresNothing_AndTheStoreGoesOn()
    {
        await using var place = await CreateAsync();
        var samples = Series("T1", 10_000).Concat(Series("T2", 10_000)).ToArray();

        // Every sample is looked at at least once to be sorted; the second look is while it is written.
        using (var batch = new CancellingBatch(samples, afterReads: samples.Length + (samples.Length / 2)))
        {
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => place.Store.WriteAsync(batch, batch.Token));
            Assert.True(batch.Token.IsCancellationRequested);
        }

        Assert.Empty(await place.Store.TrucksAsync());
        Assert.Empty(await place.Store.TouchedAsync());
        await place.Store.WriteAsync(samples);
        Assert.Equal([10_000, 10_000], (await place.Store.TrucksAsync()).Select(t => t.Samples));
    }

    [SkippableFact]
    public async Task ImpossibleSamples_AreTheCallersFault_AndNothingOfTheBatchIsStored()
    {
        await using var place = await CreateAsync();
        var values = SignalValues.Empty;
        values[(int)Signal.Vacuum] = double.PositiveInfinity;

        await Assert.ThrowsAsync<ArgumentException>(() => place.Store.WriteAsync(Series("T1", 1)[0], new Sample("T1", Start + 1, values)));
        await Assert.ThrowsAsync<ArgumentException>(() => place.Store.WriteAsync(Series("T1", 1)[0], default(Sample)));

        Assert.Empty(await place.Store.TrucksAsync());
    }

    [SkippableFact]
    public async Task SecondStore_ReadsWhileTheFirstWrites()
    {
        await using var place = await CreateAsync();
        var reader = place.OpenAgain();
        var batches = Series("T1", 40_000).Chunk(1000).ToArray();
        var writing = Task.Run(async () =>
        {
            foreach (var batch in batches)
            {
                await place.Store.WriteAsync(batch);
            }
        });

        var written = Series("T1", 40_000).ToDictionary(s => s.UnixMs);
        var seen = new List<int>();
        do
        {
            var read = await reader.ReadAsync("T1");
            seen.Add(read.Count);

            // Each in its place, once, and as it was written: whatever part of it can be seen yet is true.
            Assert.True(read.Zip(read.Skip(1), (a, b) => a.UnixMs < b.UnixMs).All(rises => rises));
            Assert.DoesNotContain(read, s => written[s.UnixMs] != s);
        }
        while (!writing.IsCompleted);

        await writing;
        if (place.ShowsWholeBatches)
        {
            Assert.All(seen, n => Assert.Equal(0, n % 1000));
        }

        Assert.Equal(seen.Order(), seen);
        Assert.Equal(40_000, (await reader.ReadAsync("T1")).Count);
    }

    [SkippableFact]
    public async Task ManyWritersAtOnce_LoseNothing()
    {
        await using var place = await CreateAsync();
        var second = place.OpenAgain();

        await Task.WhenAll(Enumerable.Range(0, 40).Select(i => Task.Run(
            () => (i % 2 == 0 ? place.Store : second).WriteAsync(Series("T" + (i % 4), 50, Start + (i * 1_000_000L))))));

        Assert.Equal([500, 500, 500, 500], (await place.Store.TrucksAsync()).Select(t => t.Samples));
        foreach (var truck in await place.Store.TrucksAsync())
        {
            Assert.Equal(500, (await place.Store.ReadAsync(truck.Truck)).Count);
        }
    }
}
