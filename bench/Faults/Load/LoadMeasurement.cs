using System.Diagnostics;
using System.Globalization;
using System.Text;
using Vanehour.Bench.Faults.Feed;
using Vanehour.Bench.Faults.Scenarios;
using Vanehour.Bench.Faults.Verification;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Host.Composition;

namespace Vanehour.Bench.Faults.Load;

/// <summary>How fast a worker takes in packs, beside mosquitto_sub on the same feed: live side by side, and draining a queue one after the other.</summary>
internal static class LoadMeasurement
{
    private const int Rounds = 3;

    public static async Task<string> RunAsync(int packs)
    {
        if (SubscriberProgram.Program is null)
        {
            return "Not measured: mosquitto_sub is not installed (Debian: mosquitto-clients).\n";
        }

        var live = new List<(double Worker, double Subscriber)>();
        var drain = new List<(double Worker, double Subscriber)>();
        var notes = new List<string>();
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"One worker (SQLite, acknowledges when durable) beside mosquitto_sub (acknowledges at once, stores nothing). A pack is {PlannedMessage.Instants} samples of 3 signals, {new PlannedMessage(0, MessagePlan.DefaultStartS, false).Encode().Length} bytes; QoS 1, MQTT 5, receive maximum 1 000 on both.");
        text.AppendLine().AppendLine("| measure | round | worker, packs/s | worker, samples/s | mosquitto_sub, packs/s | ratio | worker's processor s |");
        text.AppendLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: |");
        for (var round = 1; round <= Rounds; round++)
        {
            var (worker, subscriber, processor) = await LiveAsync(packs / 2, round);
            live.Add((worker, subscriber));
            Row("live, both at once", round, worker, subscriber, processor);
        }

        for (var round = 1; round <= Rounds; round++)
        {
            var (worker, subscriber, processor, queued) = await DrainAsync(packs, round);
            notes.Add(queued);
            drain.Add((worker, subscriber));
            Row(string.Create(CultureInfo.InvariantCulture, $"drain of {packs} queued packs, one after the other, program start included"), round, worker, subscriber, processor);
        }

        text.AppendLine();
        text.AppendLine(CultureInfo.InvariantCulture, $"Median ratio live {Median(live):0.00}, drain {Median(drain):0.00}.").AppendLine();
        notes.ForEach(n => text.AppendLine(n));
        return text.ToString();

        void Row(string measure, int round, double worker, double subscriber, TimeSpan processor) => text.AppendLine(
            CultureInfo.InvariantCulture,
            $"| {measure} | {round} | {worker:0} | {worker * PlannedMessage.Instants:0} | {subscriber:0} | {worker / subscriber:0.00} | {processor.TotalSeconds:0.0} |");
    }

    private static double Median(List<(double Worker, double Subscriber)> rounds) =>
        rounds.Select(r => r.Worker / r.Subscriber).Order().ElementAt(rounds.Count / 2);

    private static async Task<(double Worker, double Subscriber, TimeSpan Processor)> LiveAsync(int packs, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, new MessagePlan(seed, trucks: 20, plain: true));
        var settings = stage.Settings("worker");
        await using var worker = WorkerProcess.Start(settings, stage.Broker.Port);
        await worker.ConnectedAsync();
        await using var subscriber = SubscriberProgram.Start(stage.Broker.Port, packs);
        await Task.Delay(TimeSpan.FromSeconds(1));
        var before = worker.ProcessorTime;
        var clock = Stopwatch.StartNew();
        var subscribed = WhenEndedAsync(subscriber, clock);
        var stored = WhenStoredAsync(settings.Folder, (long)packs * PlannedMessage.Instants, clock);
        await stage.Publisher.PublishAsync(packs);
        var (workerS, subscriberS) = (await stored, await subscribed);
        await CheckAsync(stage, settings);
        return (packs / workerS, packs / subscriberS, worker.ProcessorTime - before);
    }

    private static async Task<(double Worker, double Subscriber, TimeSpan Processor, string Queued)> DrainAsync(int packs, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, new MessagePlan(seed, trucks: 20, plain: true));
        var settings = stage.Settings("worker");

        // Both leave a session behind, for which the broker then queues.
        await using (var first = WorkerProcess.Start(settings, stage.Broker.Port))
        {
            await first.ConnectedAsync();
            await first.StopAsync();
        }

        await using (var first = SubscriberProgram.Start(stage.Broker.Port, packs))
        {
            await Task.Delay(TimeSpan.FromSeconds(1));
            await first.StopAsync();
        }

        var clock = Stopwatch.StartNew();
        await stage.Publisher.PublishAsync(packs);
        var queued = string.Create(
            CultureInfo.InvariantCulture,
            $"- Round {seed}: both queues filled at {packs / clock.Elapsed.TotalSeconds:0} packs/s; the broker then held {stage.Broker.Process.MemoryBytes / 1e6:0} MB of memory.");
        clock.Restart();
        await using var subscriber = SubscriberProgram.Start(stage.Broker.Port, packs);
        var subscriberS = await WhenEndedAsync(subscriber, clock);
        clock.Restart();
        await using var worker = WorkerProcess.Start(settings, stage.Broker.Port);
        var workerS = await WhenStoredAsync(settings.Folder, (long)packs * PlannedMessage.Instants, clock);
        await CheckAsync(stage, settings);
        return (packs / workerS, packs / subscriberS, worker.ProcessorTime, queued);
    }

    private static async Task CheckAsync(FaultStage stage, WorkerSettings settings)
    {
        if (await StoreCheck.RunAsync(stage.Ledger, settings.Folder) is { IsExact: false } verdict)
        {
            throw new InvalidOperationException($"The load measurement lost or invented something: {verdict}.");
        }
    }

    private static async Task<double> WhenEndedAsync(ChildProcess program, Stopwatch clock)
    {
        await program.WaitAsync(TimeSpan.FromMinutes(10));
        return clock.Elapsed.TotalSeconds;
    }

    private static async Task<double> WhenStoredAsync(string folder, long samples, Stopwatch clock)
    {
        using var data = DataFolder.Open(folder);
        while ((await data.Samples.TrucksAsync(default)).Sum(t => t.Samples) < samples)
        {
            await Task.Delay(20);
            if (clock.Elapsed > TimeSpan.FromMinutes(10))
            {
                throw new TimeoutException("The worker did not store everything within ten minutes.");
            }
        }

        return clock.Elapsed.TotalSeconds;
    }
}
