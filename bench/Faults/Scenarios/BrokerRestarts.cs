using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>The broker is asked to end (SIGTERM), under load, and started again.</summary>
internal static class BrokerRestarts
{
    public static async Task<FaultResult> RunAsync(int restarts, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 300);
        for (var i = 0; i < restarts; i++)
        {
            await Task.Delay(stage.Between(0.3, 1.5));
            await stage.Broker.StopAsync();
            await Task.Delay(stage.Between(0, 1));
            await stage.Broker.StartAgainAsync();
            await worker.ConnectedAsync(i + 2);
        }

        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        return FaultResult.Of(stage, "broker restarted (SIGTERM)", restarts, verdict) with
        {
            Failures = worker.HasExited ? ["The worker ended: " + worker.Lines.Last()] : [],
        };
    }
}
