using System.Diagnostics;
using System.Globalization;
using System.Text;
using Vanehour.Bench.Faults.Feed;
using Vanehour.Bench.Faults.Scenarios;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Load;

/// <summary>What mosquitto's ways of saving its queues cost while a worker is away, and what each may lose when the broker is killed.</summary>
internal static class BrokerSettings
{
    private const int BacklogPacks = 100_000;
    private const int Step = 500;
    private const int Kills = 5;
    private const double SlowRate = 10;

    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(20);

    private static readonly (bool OnChanges, int Interval)[] Candidates = [(true, 1), (true, 100), (true, 1000), (false, 1), (false, 5)];

    public static async Task<string> RunAsync(int seed)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"Worker away: up to {BacklogPacks} packs queued flat out within {Limit.TotalSeconds:0} s; then, on new brokers, {Kills} kills (-9) each at {BrokerKills.UsualRate:0} and {SlowRate:0} messages/s.");
        text.AppendLine("\"Session lost\" counts the times the broker told the publisher that nobody subscribes, because it had not saved the worker's session: such messages it does not take.").AppendLine();
        text.AppendLine(CultureInfo.InvariantCulture, $"| autosave_on_changes | autosave_interval | packs queued | packs/s, all | packs/s, the last {Step} | lost for each kill at {BrokerKills.UsualRate:0}/s | at {SlowRate:0}/s | session lost |");
        text.AppendLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var (onChanges, interval) in Candidates)
        {
            var overrides = new Dictionary<string, string>
            {
                ["autosave_on_changes"] = onChanges ? "true" : "false",
                ["autosave_interval"] = interval.ToString(CultureInfo.InvariantCulture),
            };
            var (packs, all, last) = await QueueAsync(overrides, seed);
            var usual = await BrokerKills.WorkerAwayAsync(Kills, seed, overrides);
            var slow = await BrokerKills.WorkerAwayAsync(Kills, seed, overrides, SlowRate);
            var line = string.Create(
                CultureInfo.InvariantCulture,
                $"| {(onChanges ? "true" : "false")} | {interval}{(onChanges ? " changes" : " s")} | {packs} | {all:0} | {last:0} | {Loss(usual):0.0} | {Loss(slow):0.0} | {usual.Unsubscribed + slow.Unsubscribed} |");
            text.AppendLine(line);
            await Console.Error.WriteLineAsync(line);
        }

        return text.ToString();
    }

    private static double Loss(FaultResult kills) => kills.Verdict!.LostMessages / (double)Kills;

    private static async Task<(int Packs, double All, double Last)> QueueAsync(Dictionary<string, string> overrides, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, new MessagePlan(seed, trucks: 20, plain: true), overrides);
        var worker = stage.Start(stage.Settings("worker"));
        await worker.ConnectedAsync();
        await worker.StopAsync();
        var clock = Stopwatch.StartNew();
        var packs = 0;
        var last = 0.0;
        while (packs < BacklogPacks && clock.Elapsed < Limit)
        {
            var before = clock.Elapsed;
            await stage.Publisher.PublishAsync(Step);
            packs += Step;
            last = Step / (clock.Elapsed - before).TotalSeconds;
        }

        return (packs, packs / clock.Elapsed.TotalSeconds, last);
    }
}
