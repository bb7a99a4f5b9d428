using System.Diagnostics;
using System.Globalization;
using Vanehour.Bench.Faults.Servers;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Host.Composition;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>What happens to an InfluxDB behind a worker's outbox, under load: stopped, killed, refusing, breaking off, slow, away for long.</summary>
internal static class ServerFaults
{
    private const double MessagesPerSecond = 300;

    /// <summary>The server is stopped or killed and comes back.</summary>
    public static async Task<FaultResult> RestartsAsync(int times, bool kill, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, influx: true);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(MessagesPerSecond);
        for (var i = 0; i < times; i++)
        {
            await Task.Delay(stage.Between(0.5, 2));
            await (kill ? stage.Server!.KillAsync() : stage.Server!.StopAsync());
            await Task.Delay(stage.Between(0, 2));
            await stage.Server!.StartAgainAsync();
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, kill ? "InfluxDB killed (-9)" : "InfluxDB restarted (SIGTERM)", times, verdict) with { Failures = Ended(worker) };
    }

    /// <summary>The server refuses, breaks off, stalls and is slow, each for a second or two, in turns with good times.</summary>
    public static async Task<FaultResult> FlappingAsync(int rounds, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, influx: true);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(MessagesPerSecond);
        var troubles = Enum.GetValues<ServerTrouble>().Where(t => t != ServerTrouble.None).ToArray();
        var failed = new Dictionary<ServerTrouble, long>();
        for (var round = 0; round < rounds; round++)
        {
            foreach (var trouble in troubles)
            {
                await Task.Delay(stage.Between(0.2, 0.8));
                var before = stage.Gate!.Failed;
                stage.Gate.Trouble = trouble;
                await Task.Delay(stage.Between(0.5, 2));

                // The worker may be waiting just now, longer on a busy machine: a trouble goes on until it has struck.
                var clock = Stopwatch.StartNew();
                while (trouble != ServerTrouble.Slow && stage.Gate.Failed == before && clock.Elapsed < TimeSpan.FromSeconds(60))
                {
                    await Task.Delay(20);
                }

                stage.Gate.Trouble = ServerTrouble.None;
                failed[trouble] = failed.GetValueOrDefault(trouble) + stage.Gate.Failed - before;
            }
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, "InfluxDB refuses, breaks off, stalls", rounds * troubles.Length, verdict) with
        {
            Notes = ["Requests to write that were made to fail: " + string.Join(", ", failed.Where(f => f.Key != ServerTrouble.Slow).Select(f => $"{f.Key} {f.Value}")) + "."],
            Failures = [.. Ended(worker), .. failed.Where(f => f.Key != ServerTrouble.Slow && f.Value == 0).Select(f => $"{f.Key} never struck.")],
        };
    }

    /// <summary>The server is away for a minute under load; the worker is killed meanwhile, and again while the backlog drains.</summary>
    public static async Task<FaultResult> OutageAsync(TimeSpan length, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed, influx: true);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(MessagesPerSecond);
        await Task.Delay(TimeSpan.FromSeconds(3));
        await stage.Server!.KillAsync();
        const int kills = 3;
        for (var i = 0; i < kills; i++)
        {
            await Task.Delay(length / kills);
            await worker.KillAsync();
            worker = stage.Start(settings);
            await worker.ConnectedAsync();
        }

        using var data = DataFolder.Open(settings.Folder);
        var outbox = data.Remote!.Outbox;
        var waiting = (await outbox.BacklogAsync(default)).Samples;
        await stage.Server.StartAgainAsync();

        // Killed in the midst of draining, while new data arrive.
        var clock = Stopwatch.StartNew();
        while ((await outbox.BacklogAsync(default)).Samples > waiting / 2 && clock.Elapsed < TimeSpan.FromMinutes(2))
        {
            await Task.Delay(10);
        }

        var half = clock.Elapsed;
        await worker.KillAsync();
        worker = stage.Start(settings);
        await worker.ConnectedAsync();
        while ((await outbox.BacklogAsync(default)).Samples > 2 * MessagesPerSecond * 10 && clock.Elapsed < TimeSpan.FromMinutes(2))
        {
            await Task.Delay(10);
        }

        var drained = clock.Elapsed;
        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, "InfluxDB away, worker killed meanwhile and while it drains", 2 + kills, verdict) with
        {
            Notes =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{waiting} samples waited when the server came back; half of them were on it after {half.TotalSeconds:0.0} s, all but the newest after {drained.TotalSeconds:0.0} s, a kill and a restart of the worker included, while {MessagesPerSecond:0} messages/s went on arriving."),
            ],
            Failures = Ended(worker),
        };
    }

    private static IReadOnlyList<string> Ended(ChildProcess worker) => worker.HasExited ? ["The worker ended: " + worker.Lines.Last()] : [];
}
