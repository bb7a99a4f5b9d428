using Vanehour.Fleet;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>The protocol by which runs learn what changed.</summary>
public abstract partial class TelemetryStoreConformance
{
    [SkippableFact]
    public async Task Touched_HoldsTheEarliestInstantThatChanged()
    {
        await using var place = await CreateAsync();

        await place.Store.WriteAsync(Series("T2", 3, Start + 500));
        await place.Store.WriteAsync(Series("T1", 3));
        await place.Store.WriteAsync(Series("T2", 1, Start + 700));

        var touched = await place.Store.TouchedAsync();
        Assert.Equal([("T1", Start), ("T2", Start + 500)], touched.Select(t => (t.Truck, t.EarliestMs)));

        await place.Store.WriteAsync(Series("T2", 1, Start - 9));
        Assert.Equal(Start - 9, (await place.Store.TouchedAsync())[1].EarliestMs);
    }

    [SkippableFact]
    public async Task Revision_GrowsWithEveryBatchThatTouches()
    {
        await using var place = await CreateAsync();
        var last = long.MinValue;
        for (var i = 0; i < 3; i++)
        {
            await place.Store.WriteAsync(Series("T1", 2, Start + (i * 1000)));
            var revision = Assert.Single(await place.Store.TouchedAsync()).Revision;
            Assert.True(revision > last);
            last = revision;
        }
    }

    [SkippableFact]
    public async Task Settled_IsForgotten_AndOthersStay()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync([.. Series("T1", 3), .. Series("T2", 3)]);

        await place.Store.SettleAsync((await place.Store.TouchedAsync())[0]);

        Assert.Equal(["T2"], (await place.Store.TouchedAsync()).Select(t => t.Truck));
    }

    [SkippableFact]
    public async Task TouchRenewedSinceItWasRead_StaysWithItsEarliestInstant()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 3));
        var read = Assert.Single(await place.Store.TouchedAsync());
        await place.Store.WriteAsync(Series("T1", 1, Start + 77));

        await place.Store.SettleAsync(read);

        // What was derived from the first touch may have missed the second; that the earlier instant comes again does no harm.
        Assert.Equal(Start, Assert.Single(await place.Store.TouchedAsync()).EarliestMs);
    }

    [SkippableFact]
    public async Task TouchAfterSettling_StartsAnew_AndAnOldSettlingDoesNotTakeItAway()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 3));
        var old = Assert.Single(await place.Store.TouchedAsync());
        await place.Store.SettleAsync(old);
        await place.Store.WriteAsync(Series("T1", 1, Start + 77));

        await place.Store.SettleAsync(old);

        Assert.Equal(Start + 77, Assert.Single(await place.Store.TouchedAsync()).EarliestMs);
    }

    [SkippableFact]
    public async Task SettlingTwice_IsNoError()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 3));
        var touched = Assert.Single(await place.Store.TouchedAsync());

        await place.Store.SettleAsync(touched);
        await place.Store.SettleAsync(touched);

        Assert.Empty(await place.Store.TouchedAsync());
    }

    [SkippableFact]
    public async Task Redelivery_ChangesNothingAndTouchesNothing()
    {
        await using var place = await CreateAsync();
        var full = At("T1", Start, (Signal.Vacuum, 50), (Signal.PumpTemp, 80));
        await place.Store.WriteAsync([full, .. Series("T1", 100, Start + 1)]);
        await place.Store.SettleAllAsync();

        await place.Store.WriteAsync([full, .. Series("T1", 100, Start + 1)]);
        await place.Store.WriteAsync(At("T1", Start, (Signal.Vacuum, 50)));
        await place.Store.WriteAsync(At("T1", Start, (Signal.PumpTemp, 80)), At("T1", Start, (Signal.Vacuum, 50)));

        Assert.Empty(await place.Store.TouchedAsync());
        Assert.Equal(101, Assert.Single(await place.Store.TrucksAsync()).Samples);
        Assert.Equal(full, (await place.Store.ReadAsync("T1"))[0]);
    }

    [SkippableFact]
    public async Task RedeliveryBesideNews_TouchesOnlyWhatIsNew()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync([.. Series("T1", 10), .. Series("T2", 10)]);
        await place.Store.SettleAllAsync();

        await place.Store.WriteAsync([.. Series("T1", 12), .. Series("T2", 10)]);

        var touched = Assert.Single(await place.Store.TouchedAsync());
        Assert.Equal(("T1", Start + 100_000), (touched.Truck, touched.EarliestMs));
    }

    [SkippableFact]
    public async Task ChangedValueOrNewSignal_Touches()
    {
        await using var place = await CreateAsync();
        await place.Store.WriteAsync(Series("T1", 10));
        await place.Store.SettleAllAsync();

        await place.Store.WriteAsync(At("T1", Start + 50_000, (Signal.Baro, 101)));
        Assert.Equal(Start + 50_000, Assert.Single(await place.Store.TouchedAsync()).EarliestMs);
        await place.Store.SettleAllAsync();

        await place.Store.WriteAsync(At("T1", Start + 40_000, (Signal.Vacuum, 99)));
        Assert.Equal(Start + 40_000, Assert.Single(await place.Store.TouchedAsync()).EarliestMs);
    }
}
