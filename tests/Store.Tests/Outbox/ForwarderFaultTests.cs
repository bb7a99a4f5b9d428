using System.Diagnostics;
using Vanehour.Fleet;
using Vanehour.Store.Outbox;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Telemetry;
using Vanehour.Tests.Loopback;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>Each way in which a server fails: nothing is lost, nothing is doubled, and only bad points land in the rejects.</summary>
public sealed class ForwarderFaultTests : IAsyncLifetime, IDisposable
{
    // Three requests.
    private const int Many = 12_000;

    private readonly DataFolder folder = new();
    private InfluxStub stub = null!;

    public static TheoryData<string> Transient => ["TooMany", "Internal", "Unavailable", "BadGateway", "LoginPage", "Reset", "Stall"];

    public async Task InitializeAsync() => stub = await InfluxStub.StartAsync();

    public async Task DisposeAsync() => await stub.DisposeAsync();

    public void Dispose() => folder.Dispose();

    [Theory]
    [MemberData(nameof(Transient))]
    public async Task TroubleThatPasses_IsWaitedFor(string name)
    {
        stub.Fault = n => n % 3 == 0 ? null : Fault(name);
        await using var rig = Rig(name);
        await rig.Store.WriteAsync(Series("T1", Many));
        rig.Start();
        await rig.DrainedAsync();

        await AssertAllThereAsync(rig, Many);
        Assert.True(rig.Saw(ForwardingState.Waiting, "InfluxDB at http://127.0.0.1"));
        await rig.UntilAsync(s => s.Forwarded >= Many);
        Assert.Equal(Many, rig.Forwarder.Status().Forwarded);
    }

    [Theory]
    [MemberData(nameof(Transient))]
    public async Task AnswerLostAfterTheWrite_DoublesNothing(string name)
    {
        stub.Fault = n => n % 3 == 0 ? null : Fault(name) with { AfterStoring = true };
        await using var rig = Rig(name);
        await rig.Store.WriteAsync(Series("T1", Many));
        rig.Start();
        await rig.DrainedAsync();

        await AssertAllThereAsync(rig, Many);
    }

    [Fact]
    public async Task RetryAfter_IsHonoured()
    {
        stub.Fault = n => n == 1 ? StubFault.TooMany with { RetryAfter = 1 } : null;
        await using var rig = Rig();
        await rig.Store.WriteAsync(Series("T1", 10));
        var watch = Stopwatch.StartNew();
        rig.Start();
        await rig.DrainedAsync();

        Assert.True(watch.Elapsed >= TimeSpan.FromSeconds(1), $"{watch.Elapsed}");
        Assert.Equal(2, stub.Writes);
        await AssertAllThereAsync(rig, 10);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task BadPoints_AreFoundAndKeptAsRejects_AndNoOther(bool isPartial)
    {
        stub.IsPartial = isPartial;
        var bad = new HashSet<long> { Start, Start + 10_000, Start + 1_234 * 10_000L, Start + 7_777 * 10_000L, Start + ((Many - 1) * 10_000L) };
        stub.IsBad = p => bad.Contains(p.UnixMs);
        await using var rig = Rig();
        var all = Series("T1", Many);
        await rig.Store.WriteAsync(all);
        rig.Start();
        await rig.DrainedAsync();

        var good = all.Where(s => !bad.Contains(s.UnixMs)).ToArray();
        Assert.Equal(good, stub.Points("T1"));
        var rejects = await rig.RejectedAsync();
        Assert.Equal(bad.Count, rejects.Count);
        Assert.All(rejects, r => Assert.Equal((RejectReason.StoreRefused, "vanehour/T1", 1), (r.Reject.Reason, r.Reject.Topic, r.Times)));
        Assert.All(rejects, r => Assert.StartsWith(isPartial ? "422: failure writing" : "400: unable to parse", r.Reject.Detail, StringComparison.Ordinal));
        Assert.Equal(
            bad.Select(at => $"pump,truck=T1 vacuum={all.Single(s => s.UnixMs == at)[Signal.Vacuum]} {at}").Order(),
            rejects.Select(r => System.Text.Encoding.UTF8.GetString(r.Reject.Payload.Span)).Order());
        Assert.Equal([new TruckExtent("T1", good.Length, good[0].UnixMs, good[^1].UnixMs)], await rig.Store.TrucksAsync());
        await rig.UntilAsync(s => s.Forwarded >= good.Length);
        Assert.Equal((good.Length, (long)bad.Count), (rig.Forwarder.Status().Forwarded, rig.Forwarder.Status().Refused));
    }

    [Fact]
    public async Task RequestTooLong_IsHalvedUntilItFits()
    {
        stub.MaxLines = 700;
        await using var rig = Rig();
        await rig.Store.WriteAsync(Series("T1", Many));
        rig.Start();
        await rig.DrainedAsync();

        await AssertAllThereAsync(rig, Many);
        Assert.All(stub.StoredLines, n => Assert.InRange(n, 1, 700));
    }

    [Fact]
    public async Task WrongToken_StopsWithASentence_AndGoesOnWhenTheFileHasTheRightOne()
    {
        var token = folder.File("token");
        await File.WriteAllTextAsync(token, "old\n");
        stub.Token = "new";
        var options = OutboxRig.Options(stub.Url);
        options.TokenFile = token;
        await using var rig = new OutboxRig(folder.Path, options);
        await rig.Store.WriteAsync(Series("T1", 10));
        rig.Start();
        await rig.UntilAsync(s => s.State == ForwardingState.Stopped);
        Assert.Equal(
            $"InfluxDB at {stub.Url} refuses the token (401: unauthorized access); put one that may read and write the bucket 'vanehour' into {token}.",
            rig.Forwarder.Status().Problem);
        Assert.Equal(10, rig.Forwarder.Status().Backlog.Samples);

        await File.WriteAllTextAsync(token, "new\n");
        File.SetLastWriteTimeUtc(token, DateTime.UnixEpoch);
        await rig.DrainedAsync();

        await AssertAllThereAsync(rig, 10);
        await rig.UntilAsync(s => s is { State: ForwardingState.Idle, Problem: null });
    }

    [Theory]
    [InlineData(403)]
    [InlineData(404)]
    public async Task WhatAPersonMustMend_StopsForwarding_AndItResumesByItself(int status)
    {
        var isMended = false;
        stub.Fault = _ => isMended ? null : status == 403 ? StubFault.Forbidden : StubFault.NoBucket;
        await using var rig = Rig();
        await rig.Store.WriteAsync(Series("T1", 10));
        rig.Start();
        await rig.UntilAsync(s => s.State == ForwardingState.Stopped);
        Assert.Contains(status == 403 ? "Store:Influx:TokenFile" : "has no bucket 'vanehour'", rig.Forwarder.Status().Problem, StringComparison.Ordinal);

        // What arrives meanwhile is taken all the same.
        await rig.Store.WriteAsync(Series("T1", 20)[10..]);
        isMended = true;
        await rig.DrainedAsync();

        await AssertAllThereAsync(rig, 20);
    }

    [Fact]
    public async Task EverythingRefused_IsNotThePoints_SoForwardingStopsAndKeepsThem()
    {
        stub.IsBad = _ => true;
        await using var rig = Rig();
        await rig.Store.WriteAsync(Series("T1", Many));
        rig.Start();
        await rig.UntilAsync(s => s.State == ForwardingState.Stopped);

        Assert.Contains("refuses every sample", rig.Forwarder.Status().Problem, StringComparison.Ordinal);
        Assert.Empty(await rig.RejectedAsync());
        stub.IsBad = _ => false;
        await rig.DrainedAsync();
        await AssertAllThereAsync(rig, Many);
    }

    [Fact]
    public async Task EverythingRefused_OneByOne_LosesAtMostFiftyToTheRejects()
    {
        stub.IsBad = _ => true;
        await using var rig = Rig();
        rig.Start();
        foreach (var sample in Series("T1", 60))
        {
            await rig.Store.WriteAsync(sample);
            await rig.UntilAsync(s => s.Backlog.Samples == 0 || s.State == ForwardingState.Stopped);
        }

        Assert.Equal(50, (await rig.RejectedAsync()).Count);
        stub.IsBad = _ => false;
        await rig.DrainedAsync();
        Assert.Equal(Series("T1", 60)[50..], stub.Points("T1"));
    }

    [Fact]
    public async Task ServerDownAndUpAgain_LosesNothing()
    {
        using var port = new ReservedPort();
        var options = OutboxRig.Options($"http://127.0.0.1:{port.Number}");
        await using var rig = new OutboxRig(folder.Path, options);
        rig.Start();
        await rig.Store.WriteAsync(Series("T1", 100));
        await rig.UntilAsync(s => s.State == ForwardingState.Waiting);
        Assert.Contains("does not answer", rig.Forwarder.Status().Problem, StringComparison.Ordinal);

        await using var late = await InfluxStub.StartAsync(port.Socket);
        await rig.DrainedAsync();

        Assert.Equal(Series("T1", 100), late.Points("T1"));
    }

    [Theory]
    [MemberData(nameof(Transient))]
    public async Task LateDataWhileReadingFails_IsNotTakenForNews(string name)
    {
        await using var rig = Rig(name);
        await rig.Store.WriteAsync(Series("T1", 20));
        rig.Start();
        await rig.DrainedAsync();
        await rig.Store.SettleAllAsync();
        var left = 3;
        stub.QueryFault = () => left-- > 0 ? Fault(name) : null;

        await rig.Store.WriteAsync(Series("T1", 20)[5..]);
        await rig.DrainedAsync();

        Assert.Empty(await rig.Store.TouchedAsync());
        await AssertAllThereAsync(rig, 20);
    }

    private static StubFault Fault(string name) => name switch
    {
        "TooMany" => StubFault.TooMany,
        "Internal" => StubFault.Internal,
        "Unavailable" => StubFault.Unavailable with { RetryAfter = 0 },
        "BadGateway" => StubFault.BadGateway,
        "LoginPage" => StubFault.LoginPage,
        "Reset" => StubFault.Reset,
        _ => StubFault.Stall,
    };

    // Only a server that never answers needs a short time-out; one that is slow for once is asked again, which those tests allow for.
    private OutboxRig Rig(string fault = "")
    {
        var options = OutboxRig.Options(stub.Url);
        if (fault == "Stall")
        {
            options.WriteTimeout = TimeSpan.FromSeconds(1);
            options.ReadTimeout = TimeSpan.FromSeconds(1);
        }

        return new OutboxRig(folder.Path, options);
    }

    private async Task AssertAllThereAsync(OutboxRig rig, int count)
    {
        var expected = Series("T1", count);
        Assert.Equal(expected, stub.Points("T1"));
        Assert.Empty(await rig.RejectedAsync());
        Assert.Equal([new TruckExtent("T1", count, expected[0].UnixMs, expected[^1].UnixMs)], await rig.Store.TrucksAsync());
        Assert.Equal(0, (await rig.Store.BacklogAsync(CancellationToken.None)).Samples);
    }
}
