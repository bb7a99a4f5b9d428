using System.Diagnostics;
using Vanehour.Fleet;
using Vanehour.Ingest.Tests.Brokers;
using Vanehour.Ingest.Tests.Memory;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Tests.Worker;

/// <summary>At-least-once delivery with exactly-once effect, against a real broker.</summary>
public class DeliveryTests
{
    [SkippableFact]
    public async Task Messages_AreStoredAndAcknowledged_BadOnesKept()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker);
        await worker.StartAsync();
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 100);
        await truck.PublishAsync("no JSON", "fleet/T07/pump");
        await truck.PublishAsync("[]", "fleet/T 08/pump");
        await truck.PublishAsync("", "fleet/T07/pump");
        await truck.PublishAsync("[" + new string(' ', 300_000) + "]", "fleet/T09/pump");
        var status = await worker.UntilAsync(s => s.MessagesAcknowledged == 104);

        AssertStored(worker.Store, 0, 100);
        Assert.Equal(
            [RejectReason.MalformedPayload, RejectReason.UnknownTopic, RejectReason.MalformedPayload, RejectReason.PayloadTooLarge],
            worker.Rejects.Kept.Select(r => r.Reason));
        Assert.Equal(Reject.KeptBytes, worker.Rejects.Kept.Last().Payload.Length);
        Assert.Equal((0, 1, 100), (status.Backlog, status.Connections, status.SamplesStored));
    }

    [SkippableFact]
    public async Task PersistentSession_BringsWhatArrivedWhileTheWorkerWasAway()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        var store = new InMemoryTelemetryStore();
        await using (var first = new WorkerRig(broker, store))
        {
            await first.StartAsync();
            await using var early = await TestPublisher.ConnectAsync(broker);
            await early.PublishAsync(0, 10);
            await first.UntilAsync(s => s.MessagesAcknowledged == 10);
            await first.StopAsync();
            Assert.False(first.Monitor.Snapshot().Running);
        }

        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(10, 500);
        await using var second = new WorkerRig(broker, store);
        await second.StartAsync();
        await second.UntilAsync(s => s.MessagesAcknowledged == 500);

        AssertStored(store, 0, 510);
        Assert.Equal(510, store.SamplesWritten);
    }

    [SkippableFact]
    public async Task StoreAway_MessagesStayAtTheBroker_AndComeAgainToTheNextWorker()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        var store = new InMemoryTelemetryStore();
        await using (var first = new WorkerRig(broker, store, o =>
        {
            o.DrainLimit = TimeSpan.FromMilliseconds(200);
            o.ReceiveMaximum = 20;
            o.BatchMessages = 5;
        }))
        {
            await first.StartAsync();
            store.IsAway = true;
            await using var truck = await TestPublisher.ConnectAsync(broker);
            await truck.PublishAsync(0, 100);
            var status = await first.UntilAsync(s => s.StoreProblem is not null && s.MessagesReceived == 20);

            // The receive maximum holds the broker back.
            await Task.Delay(200);
            status = first.Monitor.Snapshot();
            Assert.Equal((20, 0, 20), (status.MessagesReceived, status.MessagesAcknowledged, status.Backlog));
            await first.StopAsync();
            Assert.Equal(0, first.Monitor.Snapshot().MessagesAcknowledged);
        }

        store.IsAway = false;
        await using var second = new WorkerRig(broker, store);
        await second.StartAsync();
        await second.UntilAsync(s => s.MessagesAcknowledged == 100);
        AssertStored(store, 0, 100);
    }

    [SkippableFact]
    public async Task StoreAway_ThenBack_NothingIsLost_OnOneConnection()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker);
        worker.Store.IsAway = true;
        await worker.Worker.StartAsync(CancellationToken.None);
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await worker.UntilAsync(s => s.Connected);
        await truck.PublishAsync(0, 300);
        await worker.UntilAsync(s => s.StoreProblem is not null);
        worker.Store.IsAway = false;
        var status = await worker.UntilAsync(s => s.MessagesAcknowledged == 300);

        AssertStored(worker.Store, 0, 300);
        Assert.Null(status.StoreProblem);
        Assert.Equal(1, status.Connections);
    }

    [SkippableFact]
    public async Task BrokerStoppedAndStartedMidStream_NothingIsLost()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker);
        await worker.StartAsync();
        await using (var truck = await TestPublisher.ConnectAsync(broker))
        {
            await truck.PublishAsync(0, 300);
        }

        await broker.StopAsync();
        var lost = await worker.UntilAsync(s => !s.Connected);
        Assert.NotNull(lost.BrokerProblem);
        await broker.StartAgainAsync();
        await worker.UntilAsync(s => s.Connected);
        await using (var truck = await TestPublisher.ConnectAsync(broker))
        {
            await truck.PublishAsync(300, 300);
        }

        await worker.UntilAsync(_ => worker.Store.Count == 600);
        AssertStored(worker.Store, 0, 600);
    }

    [SkippableFact]
    public async Task BrokerKilledWithMessagesUnacknowledged_SendsThemAgain_AndNothingIsLost()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker);
        await worker.StartAsync();
        worker.Store.IsAway = true;
        await using (var truck = await TestPublisher.ConnectAsync(broker))
        {
            await truck.PublishAsync(0, 200);
        }

        await worker.UntilAsync(s => s.MessagesReceived == 200 && s.StoreProblem is not null);

        // The broker saves once a second; what it has not saved is its own loss, not ours.
        await broker.SavedAsync();
        await broker.KillAsync();
        await worker.UntilAsync(s => !s.Connected);
        await broker.StartAgainAsync();
        await worker.UntilAsync(s => s.Connections == 2 && s.MessagesReceived == 400);
        worker.Store.IsAway = false;
        await using (var truck = await TestPublisher.ConnectAsync(broker))
        {
            await truck.PublishAsync(200, 200);
        }

        var status = await worker.UntilAsync(s => s.Backlog == 0 && s.MessagesReceived == 600);

        // The first 200 came twice. Those of the old connection could not be acknowledged on the new one; storing twice changed nothing.
        AssertStored(worker.Store, 0, 400);
        Assert.Equal((400, 200), (status.MessagesAcknowledged, status.MessagesUnacknowledged));
        Assert.Equal(600, worker.Store.SamplesWritten);
    }

    [SkippableFact]
    public async Task BrokerThatForgotTheSession_IsSubscribedToAgain()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker);
        await worker.StartAsync();
        await broker.KillAsync();
        broker.Forget();
        await worker.UntilAsync(s => !s.Connected);
        await broker.StartAgainAsync();
        await worker.UntilAsync(s => s.Connections == 2);
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 20);
        await worker.UntilAsync(s => s.MessagesAcknowledged == 20);

        AssertStored(worker.Store, 0, 20);
    }

    [SkippableFact]
    public async Task SharedSubscription_SplitsTheFeedBetweenTwoWorkers()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        var store = new InMemoryTelemetryStore();
        await using var one = new WorkerRig(broker, store, o => (o.ShareName, o.ClientId) = ("fleet", "one"));
        await using var two = new WorkerRig(broker, store, o => (o.ShareName, o.ClientId) = ("fleet", "two"));
        await one.StartAsync();
        await two.StartAsync();
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 200);
        await EventuallyAsync(() => store.Count == 200);

        AssertStored(store, 0, 200);
        Assert.Equal(200, store.SamplesWritten);
        Assert.InRange(one.Monitor.Snapshot().MessagesReceived, 50, 150);
        Assert.InRange(two.Monitor.Snapshot().MessagesReceived, 50, 150);
    }

    [SkippableFact]
    public async Task SharedSubscription_OneWorkerGone_TheOtherTakesTheRest()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        var store = new InMemoryTelemetryStore();
        await using var one = new WorkerRig(broker, store, o => (o.ShareName, o.ClientId) = ("fleet", "one"));
        await using var two = new WorkerRig(broker, store, o => (o.ShareName, o.ClientId) = ("fleet", "two"));
        await one.StartAsync();
        await two.StartAsync();
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 50);
        await EventuallyAsync(() => store.Count == 50);
        await one.StopAsync();
        await truck.PublishAsync(50, 50);
        var handled = two.Monitor.Snapshot().MessagesReceived;

        // The broker may park messages in the session of the worker that is away; they come when it returns.
        await using var oneAgain = new WorkerRig(broker, store, o => (o.ShareName, o.ClientId) = ("fleet", "one"));
        await oneAgain.StartAsync();
        await EventuallyAsync(() => store.Count == 100);
        AssertStored(store, 0, 100);
        Assert.True(handled > 0);
    }

    [SkippableFact]
    public async Task StoppingWorker_StoresAndAcknowledgesWhatItHas()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        var store = new InMemoryTelemetryStore();
        await using var worker = new WorkerRig(broker, store, o => o.BatchDelay = TimeSpan.FromMinutes(1));
        await worker.StartAsync();
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 50);
        await EventuallyAsync(() => worker.Monitor.Snapshot().MessagesReceived == 50);
        Assert.Equal(0, store.Count);

        await worker.StopAsync();
        AssertStored(store, 0, 50);
        Assert.Equal(50, worker.Monitor.Snapshot().MessagesAcknowledged);
        Assert.True(worker.Worker.ExecuteTask!.IsCompletedSuccessfully);
    }

    private static void AssertStored(InMemoryTelemetryStore store, int from, int count)
    {
        Assert.Equal(count, store.Count);
        for (var i = from; i < from + count; i++)
        {
            Assert.Equal(i, store.Find("T07", (TestPublisher.FirstSecond + i) * 1000, Signal.PtoHours));
        }
    }

    private static async Task EventuallyAsync(Func<bool> condition)
    {
        var watch = Stopwatch.StartNew();
        while (!condition() && watch.Elapsed < WorkerRig.Patience)
        {
            await Task.Delay(10);
        }

        Assert.True(condition());
    }
}
