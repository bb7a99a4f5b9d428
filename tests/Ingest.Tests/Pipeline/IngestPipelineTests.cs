using System.Diagnostics;
using Microsoft.Extensions.Time.Testing;
using NSubstitute;
using Vanehour.Fleet;
using Vanehour.Store;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Tests.Pipeline;

public class IngestPipelineTests
{
    [Fact]
    public async Task Message_IsAcknowledged_OnlyAfterSamplesAndRejectsAreDurable()
    {
        await using var rig = new PipelineRig();
        rig.Start();
        rig.Send("""[{"n":"vacuum","u":"kPa","t":1767340000,"v":1},{"n":"foo","v":1}]""");
        await rig.FinishAsync();

        Assert.Equal(["store 1", "reject 1", "ack"], rig.Diary);
    }

    [Fact]
    public async Task Message_IsNotAcknowledged_WhileTheStoreIsWorking()
    {
        await using var rig = new PipelineRig();
        var commit = new TaskCompletionSource();
        rig.OnStore = _ => commit.Task;
        rig.Start();
        rig.Send(PipelineRig.Pack(1));
        await EventuallyAsync(() => rig.Store.ReceivedCalls().Any(c => c.GetMethodInfo().Name == nameof(ITelemetryStore.WriteAsync)));
        Assert.Empty(rig.Diary);
        Assert.Equal(1, rig.Monitor.Snapshot().Backlog);

        commit.SetResult();
        await rig.FinishAsync();
        Assert.Equal(["ack"], rig.Diary);
    }

    [Fact]
    public async Task Message_IsNotAcknowledged_BeforeItsRejectsAreDurable()
    {
        await using var rig = new PipelineRig(o => o.RetryFirst = TimeSpan.FromMilliseconds(1));
        var attempts = 0;
        rig.OnReject = _ =>
        {
            rig.Diary.Enqueue("reject");
            return ++attempts < 3 ? throw new StoreUnavailableException("away") : Task.CompletedTask;
        };
        rig.Start();
        rig.Send("""[{"n":"vacuum","u":"kPa","t":1767340000,"v":1},{"n":"foo","v":1}]""");
        await rig.FinishAsync();

        // The samples are not stored again for the sake of the rejects.
        Assert.Equal(["store 1", "reject", "reject", "reject", "ack"], rig.Diary);
    }

    [Fact]
    public async Task Messages_AreAcknowledgedInTheOrderOfTheirArrival()
    {
        await using var rig = new PipelineRig(o => o.BatchMessages = 7);
        for (var i = 0; i < 50; i++)
        {
            rig.Send(PipelineRig.Pack(i), name: $"{i}");
        }

        rig.Start();
        await rig.FinishAsync();

        Assert.Equal(Enumerable.Range(0, 50).Select(i => $"{i}"), rig.Diary.Where(d => !d.StartsWith("store", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Batch_IsClosedByCountOfMessages_WithoutTheClock()
    {
        await using var rig = new PipelineRig(o => o.BatchMessages = 3, new FakeTimeProvider());
        for (var i = 0; i < 7; i++)
        {
            rig.Send(PipelineRig.Pack(i));
        }

        rig.Start();
        await rig.UntilAsync(s => s.MessagesAcknowledged == 6);
        Assert.Equal(2, rig.Diary.Count(d => d == "store 3"));

        await rig.FinishAsync();
        Assert.Equal("store 1", rig.Diary.Last(d => d != "ack"));
    }

    [Fact]
    public async Task Batch_IsClosedByCountOfSamples_WithoutTheClock()
    {
        await using var rig = new PipelineRig(o => o.BatchSamples = 4, new FakeTimeProvider());
        const string TwoInstants = """[{"bt":1767340000,"n":"pto","vb":true},{"n":"pto","t":1,"vb":true}]""";
        rig.Send(TwoInstants);
        rig.Send(TwoInstants);
        rig.Start();
        await rig.UntilAsync(s => s.MessagesAcknowledged == 2);

        Assert.Equal(["store 4", "ack", "ack"], rig.Diary);
    }

    [Fact]
    public async Task Batch_IsClosedByTime()
    {
        var time = new FakeTimeProvider();
        await using var rig = new PipelineRig(o => o.BatchDelay = TimeSpan.FromSeconds(1), time);
        rig.Send(PipelineRig.Pack(1));
        rig.Send(PipelineRig.Pack(2));
        rig.Start();
        await EventuallyAsync(() => rig.Monitor.Snapshot().LastTick is not null);

        // Until the clock moves, nothing may be stored however long it takes.
        await Task.Delay(200);
        time.Advance(TimeSpan.FromMilliseconds(999));
        await Task.Delay(100);
        Assert.Empty(rig.Diary);

        time.Advance(TimeSpan.FromMilliseconds(1));
        await rig.UntilAsync(s => s.MessagesAcknowledged == 2);
        Assert.Equal(["store 2", "ack", "ack"], rig.Diary);
    }

    [Fact]
    public async Task StoreAway_KeepsTheBatch_RetriesWithGrowingWaits_AndAcknowledgesNothing()
    {
        var time = new WaitsTimeProvider();
        await using var rig = new PipelineRig(
            o =>
            {
                o.BatchMessages = 1;
                o.RetryFirst = TimeSpan.FromSeconds(1);
                o.RetryLongest = TimeSpan.FromSeconds(8);
            },
            time);
        var attempts = new List<(DateTimeOffset At, Sample[] Batch)>();
        var isAway = true;
        rig.OnStore = batch =>
        {
            lock (attempts)
            {
                attempts.Add((time.GetUtcNow(), [.. batch]));
            }

            return isAway ? throw new StoreUnavailableException("The disk is full.") : Task.CompletedTask;
        };
        rig.Start();
        rig.Send(PipelineRig.Pack(1));

        // The clock moves only while the next attempt is waited for, by what is left of that wait, whatever time the attempts take.
        var nominal = new[] { 1d, 2, 4, 8, 8, 8, 8 };
        for (var i = 0; i < nominal.Length; i++)
        {
            await EventuallyAsync(() => Waits().Length > i);
            Assert.Equal(i + 1, Attempts());
            if (i < nominal.Length - 1)
            {
                time.Advance(Waits()[i]);
            }
        }

        var status = rig.Monitor.Snapshot();
        Assert.Equal("The disk is full.", status.StoreProblem);
        Assert.Equal((0, 1), (status.MessagesAcknowledged, status.Backlog));
        Assert.Empty(rig.Diary);

        isAway = false;
        time.Advance(Waits()[^1]);
        status = await rig.UntilAsync(s => s.MessagesAcknowledged == 1);
        Assert.Null(status.StoreProblem);
        Assert.All(attempts, a => Assert.Equal(attempts[0].Batch, a.Batch));

        // Each wait is between half and all of its nominal length, and no attempt comes before its wait is over.
        var waits = Waits();
        for (var i = 0; i < nominal.Length; i++)
        {
            Assert.InRange(waits[i].TotalSeconds, nominal[i] / 2, nominal[i]);
            Assert.Equal(waits[i], attempts[i + 1].At - attempts[i].At);
        }

        // Besides those for the store there are only the batch's own wait and the heartbeat's.
        TimeSpan[] Waits() => [.. time.Waits.Where(w => w != rig.Options.BatchDelay && w != TimeSpan.FromSeconds(5))];

        int Attempts()
        {
            lock (attempts)
            {
                return attempts.Count;
            }
        }
    }

    [Fact]
    public async Task NextBatch_IsDecodedWhileOneIsWritten_ButNotWithoutBound()
    {
        await using var rig = new PipelineRig(o => o.BatchMessages = 1);
        var commit = new TaskCompletionSource();
        rig.OnStore = _ => commit.Task;
        for (var i = 0; i < 20; i++)
        {
            rig.Send(PipelineRig.Pack(i));
        }

        rig.Start();
        await EventuallyAsync(() => rig.Store.ReceivedCalls().Count(c => c.GetMethodInfo().Name == nameof(ITelemetryStore.WriteAsync)) == 1);
        await Task.Delay(100);
        Assert.Equal(20, rig.Monitor.Snapshot().Backlog);
        Assert.Empty(rig.Diary);

        commit.SetResult();
        await rig.FinishAsync();
        Assert.Equal(20, rig.Diary.Count(d => d == "ack"));
    }

    [Fact]
    public async Task FailureThatIsNoOutage_EscapesFromThePipeline()
    {
        await using var rig = new PipelineRig();
        rig.OnStore = _ => throw new InvalidOperationException("a bug");
        rig.Start();
        rig.Send(PipelineRig.Pack(1));

        var e = await Assert.ThrowsAsync<InvalidOperationException>(() => rig.Running.WaitAsync(PipelineRig.Patience));
        Assert.Equal("a bug", e.Message);
        Assert.DoesNotContain("ack", rig.Diary);
    }

    [Fact]
    public async Task GivingUp_EndsThePipeline_WithNothingAcknowledged()
    {
        await using var rig = new PipelineRig(o => o.RetryFirst = TimeSpan.FromMilliseconds(1));
        rig.OnStore = _ => throw new StoreUnavailableException("away");
        rig.Start();
        rig.Send(PipelineRig.Pack(1));
        await rig.UntilAsync(s => s.StoreProblem is not null);
        rig.GiveUp();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => rig.Running.WaitAsync(PipelineRig.Patience));
        Assert.DoesNotContain("ack", rig.Diary);
    }

    [Fact]
    public async Task MessageWhoseConnectionIsGone_CountsAsUnacknowledged()
    {
        await using var rig = new PipelineRig();
        rig.Start();
        rig.Send(PipelineRig.Pack(1), connectionGone: true);
        rig.Send(PipelineRig.Pack(2));
        await rig.FinishAsync();

        var status = rig.Monitor.Snapshot();
        Assert.Equal((1, 1, 0), (status.MessagesAcknowledged, status.MessagesUnacknowledged, status.Backlog));
    }

    [Fact]
    public async Task StoreAwayAtTheStart_IsWaitedFor()
    {
        await using var rig = new PipelineRig(o => o.RetryFirst = TimeSpan.FromMilliseconds(1));
        var attempts = 0;
        rig.Store.TrucksAsync(default).ReturnsForAnyArgs(_ => ++attempts < 3 ? throw new StoreUnavailableException("away") : []);
        rig.Start();
        rig.Send(PipelineRig.Pack(1));
        await rig.FinishAsync();

        Assert.Equal(3, attempts);
        Assert.Contains("ack", rig.Diary);
        Assert.Null(rig.Monitor.Snapshot().StoreProblem);
    }

    [Theory]
    [InlineData("fleet/T 07/pump", RejectReason.UnknownTopic)]
    [InlineData("fleet//pump", RejectReason.UnknownTopic)]
    [InlineData("elsewhere/T07/pump", RejectReason.UnknownTopic)]
    public async Task TopicWithoutAValidTruck_IsRejectedAndAcknowledged(string topic, RejectReason reason)
    {
        await using var rig = new PipelineRig();
        rig.Start();
        rig.Send(PipelineRig.Pack(1), topic);
        await rig.FinishAsync();

        Assert.Equal(["reject 1", "ack"], rig.Diary);
        Assert.Equal((reason, topic), (rig.Kept.Single().Reason, rig.Kept.Single().Topic));
    }

    [Fact]
    public async Task PayloadCutByTheFeed_IsRejectedByItsTrueLength()
    {
        await using var rig = new PipelineRig();
        rig.Start();
        rig.Send(PipelineRig.Pack(1), payloadBytes: 300_000);
        await rig.FinishAsync();

        var reject = rig.Kept.Single();
        Assert.Equal(RejectReason.PayloadTooLarge, reject.Reason);
        Assert.Contains("300000 bytes", reject.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task TruckOverItsRate_IsRateLimited_OthersAreNot()
    {
        await using var rig = new PipelineRig(o =>
        {
            o.RatePerSecond = 1;
            o.RateBurst = 2;
        });
        for (var i = 0; i < 50; i++)
        {
            rig.Send(PipelineRig.Pack(i));
        }

        rig.Send(PipelineRig.Pack(1), "fleet/T08/pump");
        var watch = Stopwatch.StartNew();
        rig.Start();
        await rig.FinishAsync();

        // 3 at once; the allowance grows by one a second.
        var limited = rig.Kept.Count(r => r.Reason == RejectReason.RateLimited);
        Assert.InRange(limited, Math.Max(1, 46 - (int)watch.Elapsed.TotalSeconds), 47);
        Assert.All(rig.Kept, r => Assert.Equal("fleet/T07/pump", r.Topic));
        Assert.Equal(51, rig.Diary.Count(d => d == "ack"));
    }

    [Fact]
    public async Task TrucksBeyondTheCap_AreRefused_ThoseTheStoreKnowsAreNot()
    {
        await using var rig = new PipelineRig(o => o.MaxTrucks = 2);
        rig.Store.TrucksAsync(default).ReturnsForAnyArgs([new TruckExtent("T01", 1, 0, 0)]);
        rig.Start();
        rig.Send("garbage", "fleet/T99/pump");
        rig.Send(PipelineRig.Pack(1), "fleet/T02/pump");
        rig.Send(PipelineRig.Pack(1), "fleet/T03/pump");
        rig.Send(PipelineRig.Pack(1), "fleet/T01/pump");
        rig.Send(PipelineRig.Pack(2), "fleet/T02/pump");
        await rig.FinishAsync();

        Assert.Equal(
            [("fleet/T99/pump", RejectReason.MalformedPayload), ("fleet/T03/pump", RejectReason.TooManyTrucks)],
            rig.Kept.Select(r => (r.Topic, r.Reason)));
        Assert.Equal(3, rig.Monitor.Snapshot().SamplesStored);
    }

    [Fact]
    public async Task Status_CountsWhatHappened()
    {
        var time = new FakeTimeProvider(DateTimeOffset.FromUnixTimeMilliseconds(PipelineRig.ArrivedMs));
        await using var rig = new PipelineRig(o => o.Names["engine"] = "", time);
        rig.Start();
        rig.Send("""[{"bn":"T07/"},{"n":"vacuum","u":"kPa","t":1767340000,"v":1},{"n":"engine","v":1},{"n":"foo","v":1},{"n":"bar","v":1}]""");
        rig.Send("[");
        await rig.FinishAsync();

        var status = rig.Monitor.Snapshot();
        Assert.Equal((2, 2, 1), (status.MessagesReceived, status.MessagesAcknowledged, status.SamplesStored));
        Assert.Equal((1, 1), (status.BaseOnlyRecords, status.LeftOutRecords));
        Assert.Equal([new(RejectReason.MalformedPayload, 1), new(RejectReason.UnknownSignal, 2)], status.Rejects);
        Assert.Equal(3, status.RejectsTotal);
        Assert.Equal(time.GetUtcNow(), status.LastFlush);
    }

    [Fact]
    public async Task IdlePipeline_ShowsLife()
    {
        var time = new FakeTimeProvider();
        await using var rig = new PipelineRig(time: time);
        rig.Start();
        await AdvanceUntilAsync(time, () => rig.Monitor.Snapshot().LastTick is { } tick && tick > time.Start + TimeSpan.FromSeconds(12));
        Assert.Empty(rig.Diary);
    }

    private static async Task AdvanceUntilAsync(FakeTimeProvider time, Func<bool> condition)
    {
        var watch = Stopwatch.StartNew();
        while (!condition() && watch.Elapsed < PipelineRig.Patience)
        {
            time.Advance(TimeSpan.FromMilliseconds(100));
            await Task.Delay(2);
        }

        Assert.True(condition());
    }

    private static async Task EventuallyAsync(Func<bool> condition)
    {
        var watch = Stopwatch.StartNew();
        while (!condition() && watch.Elapsed < PipelineRig.Patience)
        {
            await Task.Delay(10);
        }

        Assert.True(condition());
    }
}
