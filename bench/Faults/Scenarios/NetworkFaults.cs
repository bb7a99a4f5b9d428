using System.Globalization;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>Faults of the network between worker and broker.</summary>
internal static class NetworkFaults
{
    /// <summary>Connections are reset; every other time the broker then cannot be reached for a while.</summary>
    public static async Task<FaultResult> CutsAsync(int cuts, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 500);
        for (var i = 0; i < cuts; i++)
        {
            await Task.Delay(stage.Between(0.1, 1));
            stage.Link.Cut(refuse: i % 2 == 0);
            if (stage.Link.IsCut)
            {
                await Task.Delay(stage.Between(0, 2));
                stage.Link.Restore();
            }

            await worker.ConnectedAsync(i + 2);
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, "network cut (reset)", cuts, verdict) with { Failures = Ended(worker) };
    }

    /// <summary>Every piece of data is delayed for a time, each way.</summary>
    public static async Task<FaultResult> DelayAsync(TimeSpan delay, TimeSpan span, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker");
        stage.Link.Delay = delay;
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 500);
        await Task.Delay(span);
        stage.Link.Delay = TimeSpan.Zero;
        var connections = stage.Link.Connections;
        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, string.Create(CultureInfo.InvariantCulture, $"network delay to {delay.TotalMilliseconds:0} ms each way"), 1, verdict) with
        {
            Notes = [string.Create(CultureInfo.InvariantCulture, $"{span.TotalSeconds:0} s long, {connections} connection(s).")],
            Failures = Ended(worker),
        };
    }

    /// <summary>The connection goes dead without anybody being told: both ways, only to the broker, only to the worker, in turn.</summary>
    public static async Task<FaultResult> HalfOpenAsync(int times, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker") with { KeepAliveS = WorkerSettings.ShortS, ConnectTimeoutS = WorkerSettings.ShortS };
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 300);
        var noticed = new List<double>();
        for (var i = 0; i < times; i++)
        {
            await Task.Delay(stage.Between(0.5, 1.5));
            var silent = stage.Clock.Elapsed;
            stage.Link.Silence(up: i % 3 != 2, down: i % 3 != 1);
            if (!await worker.SaysAsync("was lost", TimeSpan.FromMinutes(1), i + 1))
            {
                return FaultResult.Of(stage, "half-open connection", i, await stage.FinishAsync(mayLose: false, settings.Folder)) with
                {
                    Failures = ["The worker did not notice a dead connection within a minute."],
                };
            }

            noticed.Add((stage.Clock.Elapsed - silent).TotalSeconds);
            await Task.Delay(stage.Between(0, 2));
            stage.Link.Restore();
            await worker.ConnectedAsync(i + 2);
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, "half-open connection", times, verdict) with
        {
            Notes =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Noticed after {noticed.Min():0.0} to {noticed.Max():0.0} s with a keep-alive of {settings.KeepAliveS} s (default 30 s) and a time-out of {settings.ConnectTimeoutS} s (default 10 s)."),
            ],
            Failures = Ended(worker),
        };
    }

    private static IReadOnlyList<string> Ended(ChildProcess worker) => worker.HasExited ? ["The worker ended: " + worker.Lines.Last()] : [];
}
