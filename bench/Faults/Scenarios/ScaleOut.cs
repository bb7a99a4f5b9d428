using System.Globalization;
using Vanehour.Bench.Faults.Verification;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>Several workers share the feed (MQTT 5 shared subscription), each with a data folder of its own; one is killed under load.</summary>
internal static class ScaleOut
{
    /// <summary>The one that was killed stays away for a while and is then started again on its folder, or another takes its client id with an empty folder.</summary>
    public static async Task<FaultResult> RunAsync(int count, bool replace, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = Enumerable.Range(1, count)
            .Select(i => stage.Settings(string.Create(CultureInfo.InvariantCulture, $"worker-{i}"), share: "yard")).ToList();
        var workers = settings.ConvertAll(stage.Start);
        foreach (var worker in workers)
        {
            await worker.ConnectedAsync();
        }

        stage.Publisher.Start(messagesPerSecond: 400);
        await Task.Delay(TimeSpan.FromSeconds(2));
        await workers[0].KillAsync();
        await Task.Delay(TimeSpan.FromSeconds(4));

        // What the others have stored by now, without the one that was killed.
        await stage.Publisher.PauseAsync();
        await stage.QuietAsync(TimeSpan.FromSeconds(1));
        var folders = settings.ConvertAll(s => s.Folder);
        var without = await StoreCheck.RunAsync(stage.Ledger, folders);
        var heir = replace ? stage.Settings("replacement", settings[0].ClientId, "yard") : settings[0];
        if (replace)
        {
            folders.Add(heir.Folder);
        }

        await stage.Start(heir).ConnectedAsync();
        stage.Publisher.Resume();
        await Task.Delay(TimeSpan.FromSeconds(1));
        await stage.Broker.StopAsync();
        await stage.Broker.StartAgainAsync();
        await Task.Delay(TimeSpan.FromSeconds(2));
        var verdict = await stage.FinishAsync(mayLose: false, folders);
        return FaultResult.Of(
            stage, string.Create(CultureInfo.InvariantCulture, $"{count} workers share, one killed (-9){(replace ? ", replaced" : "")}"), 1, verdict) with
        {
            Notes =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"While the killed one was away its share waited for it at the broker ({without.LostMessages} messages; the others do not get them) and was stored {(replace ? "by another worker with its client id and an empty folder" : "once it was back")}. The broker was restarted once as well."),
                string.Create(
                    CultureInfo.InvariantCulture, $"{verdict.InSeveralStores} samples are in more than one worker's store, with equal values."),
            ],
            Failures = [.. workers.Skip(1).Where(w => w.HasExited).Select(w => "A worker that was not killed ended: " + w.Lines.LastOrDefault())],
        };
    }
}
