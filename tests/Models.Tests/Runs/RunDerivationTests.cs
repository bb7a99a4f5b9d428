using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

public class RunDerivationTests
{
    private readonly MemoryTelemetry telemetry = new();
    private readonly MemoryRuns runs = new();
    private readonly FakeTimeProvider clock = new(Register.Fitted.AddYears(1));

    [Fact]
    public async Task DerivesTouchedTrucks_AndSettlesThem()
    {
        var feed = new TruckFeed(41).Day().Day();
        await telemetry.WriteAsync(feed.Samples, default);

        var result = await Service().DeriveAsync(null, null, default);

        Assert.Equal(["T01"], result.Derived.AsEnumerable());
        Assert.Equal(feed.Samples.Count, result.SamplesRead);
        Assert.Equal(RunDeriverTests.Derive(feed), runs.Read("T01"));
        Assert.Equal(runs.Read("T01")[^1].End, runs.SettledAt("T01"));
        Assert.Empty(await telemetry.TouchedAsync(default));
        Assert.Empty((await Service().DeriveAsync(null, null, default)).Derived);
    }

    [Fact]
    public async Task WhatIsStillOnItsWay_BoundsTheDerivation_UntilItHasArrived()
    {
        var feed = new TruckFeed(41).Day().Day();
        await telemetry.WriteAsync(feed.Samples, default);
        var missing = feed.Samples[feed.Samples.Count * 3 / 4].UnixMs;
        var outbox = new UnforwardedTelemetry(telemetry) { Oldest = { ["T01"] = missing } };
        var service = new RunDerivation(outbox, runs, Register.Of(Register.Truck()), clock, new RunSettings());

        Assert.Equal(["T01"], (await service.DeriveAsync(null, null, default)).Derived.AsEnumerable());
        Assert.NotEmpty(runs.Read("T01"));
        Assert.All(runs.Read("T01"), r => Assert.True(r.End.ToUnixTimeMilliseconds() < missing));
        Assert.Single(await telemetry.TouchedAsync(default));

        outbox.Oldest["T01"] = feed.Samples[0].UnixMs;
        Assert.Empty((await service.DeriveAsync(null, null, default)).Derived);
        Assert.Single(await telemetry.TouchedAsync(default));

        outbox.Oldest.Clear();
        await service.DeriveAsync(null, null, default);
        Assert.Equal(RunDeriverTests.Derive(feed), runs.Read("T01"));
        Assert.Empty(await telemetry.TouchedAsync(default));
    }

    [Fact]
    public async Task DerivingAgain_GivesTheSameRuns()
    {
        var feed = new TruckFeed(42).Day().Day().Day();
        await telemetry.WriteAsync(feed.Samples, default);
        await Service().DeriveAsync(null, null, default);
        var first = runs.Read("T01");

        await Service().DeriveAgainAsync(null, null, default);

        Assert.Equal(first, runs.Read("T01"));
    }

    [Fact]
    public async Task NewSamples_AreReadFromTheSettledInstantOn()
    {
        var feed = new TruckFeed(43).Day().Day().Day();
        var split = feed.Samples.Count;
        await telemetry.WriteAsync(feed.Samples, default);
        await Service().DeriveAsync(null, null, default);
        var settled = runs.SettledAt("T01")!.Value;

        await telemetry.WriteAsync(feed.Day().Samples[split..], default);
        var result = await Service().DeriveAsync(null, null, default);

        Assert.Equal(settled.AddHours(-2).ToUnixTimeMilliseconds(), telemetry.LastReadFromMs);
        Assert.InRange(result.SamplesRead, 1, feed.Samples.Count - (split / 2));
        Assert.Equal(RunDeriverTests.Derive(feed), runs.Read("T01"));
    }

    [Fact]
    public async Task RunNotYetFollowedByHalfAnHour_IsNotSettled()
    {
        var feed = new TruckFeed(44).Day(jobs: 0);
        feed.Silence(300).Neutral(1200);
        await telemetry.WriteAsync(feed.Samples, default);
        clock.AdjustTime(feed.Samples[^1].At.AddMinutes(29));

        await Service().DeriveAsync(null, null, default);

        Assert.Equal(2, runs.Read("T01").Count);
        Assert.Equal(runs.Read("T01")[0].End, runs.SettledAt("T01"));
    }

    [Fact]
    public async Task LateData_MovesTheSettledInstantBack()
    {
        var feed = new TruckFeed(45).Day().Day().Day();
        var all = feed.Samples.ToArray();
        var late = all[200..260];
        await telemetry.WriteAsync([.. all[..200], .. all[260..]], default);
        await Service().DeriveAsync(null, null, default);

        await telemetry.WriteAsync(late, default);
        await Service().DeriveAsync(null, null, default);

        Assert.Equal(RunDeriverTests.Derive(all), runs.Read("T01"));
    }

    [Fact]
    public async Task UnregisteredTruck_StaysTouchedUntilItIsRegistered()
    {
        var feed = new TruckFeed(46, "T09").Day();
        await telemetry.WriteAsync(feed.Samples, default);

        var before = await Service().DeriveAsync(null, null, default);

        Assert.Equal(["T09"], before.NotRegistered.AsEnumerable());
        Assert.Equal(0, before.SamplesRead);
        Assert.Empty(runs.Read("T09"));
        Assert.Single(await telemetry.TouchedAsync(default));

        var after = await Service(Register.Truck("T09")).DeriveAsync(null, null, default);

        Assert.Equal(["T09"], after.Derived.AsEnumerable());
        Assert.NotEmpty(runs.Read("T09"));
        Assert.Empty(await telemetry.TouchedAsync(default));
    }

    [Fact]
    public async Task AsOf_ReadsNothingLater_AndForgetsNothing()
    {
        var feed = new TruckFeed(47).Day().Day().Day().Day();
        await telemetry.WriteAsync(feed.Samples, default);
        var service = Service();
        var full = RunDeriverTests.Derive(feed);
        for (var i = 0; i < feed.Samples.Count; i += 400)
        {
            var asOf = feed.Samples[i].At;
            await service.DeriveAsync(asOf, null, default);
            Assert.Equal(RunDeriverTests.Derive(feed.Samples.Where(s => s.At <= asOf)), runs.Read("T01"));
            Assert.Single(await telemetry.TouchedAsync(default));
        }

        await service.DeriveAsync(feed.Samples[^1].At, null, default);

        Assert.Equal(full, runs.Read("T01"));
        Assert.Empty(await telemetry.TouchedAsync(default));

        // An instant in the past leaves the later runs alone.
        await telemetry.WriteAsync([feed.Samples[10]], default);
        await service.DeriveAsync(full[4].End, null, default);
        Assert.Equal(full, runs.Read("T01"));
    }

    [Fact]
    public async Task Progress_IsToldAfterEachTruck()
    {
        await telemetry.WriteAsync(new TruckFeed(48, "T01").Day().Samples, default);
        await telemetry.WriteAsync(new TruckFeed(49, "T02").Day().Samples, default);
        var told = new List<RunDerivationProgress>();

        await Service(Register.Truck("T01"), Register.Truck("T02")).DeriveAsync(null, new Listener(told), default);

        Assert.Equal([("T01", 1, 2), ("T02", 2, 2)], told.Select(p => (p.Truck, p.TrucksDone, p.TrucksInAll)));
    }

    [Fact]
    public async Task Cancelling_LeavesTheTruckTouched()
    {
        await telemetry.WriteAsync(new TruckFeed(50).Day().Samples, default);
        using var source = new CancellationTokenSource();
        await source.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Service().DeriveAsync(null, null, source.Token));
        Assert.Single(await telemetry.TouchedAsync(default));
        Assert.Empty(runs.Read("T01"));
    }

    private RunDerivation Service(params Truck[] trucks) =>
        new(telemetry, runs, Register.Of(trucks.Length > 0 ? trucks : [Register.Truck()]), clock, new RunSettings());

    private sealed class Listener(List<RunDerivationProgress> told) : IProgress<RunDerivationProgress>
    {
        public void Report(RunDerivationProgress value) => told.Add(value);
    }
}
