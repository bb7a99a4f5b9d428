using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Vanehour.Bench.Faults.Feed;
using Vanehour.Bench.Faults.Verification;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Store.Rejects;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>
/// The worker's wall clock jumps by a day to and fro. The machine's clock is left alone: the worker runs in this process, on a clock of its own.
/// While it is a day behind, data of the last day lies in its future and is refused (InFuture); it is sent again at the end, as a gateway would.
/// </summary>
internal static class ClockJumps
{
    private const int MessagesPerPhase = 100;

    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    public static async Task<FaultResult> RunAsync(int jumps, int seed)
    {
        // Packs of the last three hours, those of a truck 100 s apart.
        var startS = TimeProvider.System.GetUtcNow().AddHours(-3).ToUnixTimeSeconds();
        var recent = new MessagePlan(seed, trucks: 20, startS, plain: true);
        var old = new MessagePlan(seed, trucks: 20, plain: true);
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker");
        var clock = new JumpingClock();
        using var data = DataFolder.Open(settings.Folder);
        using var host = WorkerHost.Build(
            data,
            new ConfigurationBuilder().Build(),
            options =>
            {
                options.SetBroker(new BrokerAddress("127.0.0.1", stage.Link.Port, Tls: false));
                options.ClientId = settings.ClientId;
            },
            clock,
            LogLevel.None);
        await host.StartAsync();
        var monitor = host.Services.GetRequiredService<IngestMonitor>();
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        await monitor.WaitForAsync(s => s.Connected, limit.Token);
        var failures = new List<string>();

        // One by one, so that it is certain what has to be refused.
        TimeSpan[] offsets = [TimeSpan.Zero, Day, TimeSpan.Zero, -Day, TimeSpan.Zero, Day, -Day];
        var mustRefuse = new HashSet<PlannedMessage>();
        foreach (var offset in offsets)
        {
            clock.Offset = offset;
            for (var i = 0; i < MessagesPerPhase; i++)
            {
                var message = i % 2 == 0 ? recent.Next() : old.Next();
                await stage.Publisher.SendAsync(message);
                if (offset < TimeSpan.Zero && i % 2 == 0)
                {
                    mustRefuse.Add(message);
                }
            }

            await stage.Publisher.AllAcknowledgedAsync();
            await stage.QuietAsync(TimeSpan.FromMilliseconds(500));
        }

        var refused = await RefusedAsync(data, stage.Ledger);
        if (!refused.SetEquals(mustRefuse))
        {
            failures.Add($"{refused.Except(mustRefuse).Count()} messages were refused without need, {mustRefuse.Except(refused).Count()} were not refused.");
        }

        // In the midst of the stream.
        for (var i = 0; i < jumps; i++)
        {
            for (var n = 0; n < 30; n++)
            {
                await stage.Publisher.SendAsync(n % 2 == 0 ? recent.Next() : old.Next());
                await Task.Delay(stage.Between(0, 0.02));
            }

            clock.Offset = stage.Random.Next(3) switch { 0 => -Day, 1 => TimeSpan.Zero, _ => Day };
        }

        await stage.Publisher.AllAcknowledgedAsync();
        await stage.QuietAsync(TimeSpan.FromMilliseconds(500));
        if (monitor.Snapshot() is { Running: false } or { Connected: false })
        {
            failures.Add("The worker stopped.");
        }

        // Each message is stored, or kept among the rejects as InFuture: never neither, never another reason.
        var counts = await data.Rejects.CountAsync(default);
        refused = await RefusedAsync(data, stage.Ledger);
        var missing = await StoreCheck.CountMissingAsync(
            settings.Folder, [.. stage.Ledger.Snapshot().Select(m => m.Message).Where(m => !refused.Contains(m))]);
        if (missing > 0 || counts.Keys.Any(r => r != RejectReason.InFuture))
        {
            failures.Add($"{missing} messages were neither stored nor refused; reasons met: {string.Join(", ", counts.Keys)}.");
        }

        clock.Offset = TimeSpan.Zero;
        foreach (var message in refused)
        {
            await stage.Publisher.SendAsync(message);
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        await host.StopAsync();
        return FaultResult.Of(stage, "wall clock jumps by a day", offsets.Length - 1 + jumps, verdict) with
        {
            RightlyRefused = counts.GetValueOrDefault(RejectReason.InFuture),
            Notes = [$"{refused.Count} messages were refused as InFuture while the clock was a day behind, each kept among the rejects; sent again under a right clock all were stored. A clock that is ahead refuses nothing."],
            Failures = failures,
        };
    }

    private static async Task<HashSet<PlannedMessage>> RefusedAsync(DataFolder data, FeedLedger ledger) =>
        [.. (await data.Rejects.ReadAsync(int.MaxValue, default)).Select(r => ledger.Find(r.Reject.Payload.Span)).OfType<PlannedMessage>()];
}
