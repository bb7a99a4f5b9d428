using System.Globalization;
using Vanehour.Bench.Faults.Verification;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>kill -9 of the worker at random points under load: while it starts, while it connects, while it stores.</summary>
internal static class WorkerKills
{
    private const double MessagesPerSecond = 300;

    public static async Task<FaultResult> RunAsync(int kills, int seed, bool influx = false)
    {
        await using var stage = await FaultStage.SetAsync(seed, influx: influx);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(MessagesPerSecond);
        var held = new List<long>();
        var connected = 0;
        var missing = 0;
        for (var i = 0; i < kills; i++)
        {
            if (i % 3 == 2)
            {
                // Some time after its start, connected or not.
                await Task.Delay(stage.Between(0.05, 1.5));
            }
            else
            {
                await worker.ConnectedAsync();
                await Task.Delay(stage.Between(0, 1));
            }

            held.Add(stage.Link.Traffic().Outstanding);
            connected += worker.Count(WorkerProcess.ConnectedLine) > 0 ? 1 : 0;
            await worker.KillAsync();

            // Before the next one starts: all that this one has acknowledged must be there already.
            await stage.Link.QuietAsync();
            missing += await StoreCheck.CountMissingAsync(settings.Folder, stage.Ledger.TakeNewlyTaken());
            worker = stage.Start(settings);
        }

        await worker.ConnectedAsync();
        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        held.Sort();
        return FaultResult.Of(stage, "kill -9 of the worker", kills, verdict) with
        {
            Notes =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{connected} of the {kills} kills hit a connected worker, the others one that was starting; {held.Count(h => h > 0)} hit one with messages in its hands (up to {held[^1]})."),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Right after each kill, before the restart, every message acknowledged on the wire was looked up in the {(influx ? "outbox and the server" : "store")}: {missing} missing."),
            ],
            Failures = missing == 0 ? [] : [$"{missing} acknowledged messages were not in the store right after a kill."],
        };
    }
}
