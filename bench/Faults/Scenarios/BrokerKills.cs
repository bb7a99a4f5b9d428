using System.Globalization;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>kill -9 of the broker under load. What it had acknowledged and neither delivered nor saved is gone; what the worker had acknowledged must not be.</summary>
internal static class BrokerKills
{
    /// <summary>Messages per second unless told otherwise.</summary>
    public const double UsualRate = 300;

    /// <summary>With the worker at work: messages hardly ever wait at the broker.</summary>
    public static async Task<FaultResult> WorkerPresentAsync(int kills, int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("worker");
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(UsualRate);
        for (var i = 0; i < kills; i++)
        {
            await Task.Delay(stage.Between(0.3, 3));
            await stage.Broker.KillAsync();
            await Task.Delay(stage.Between(0, 1));
            await stage.Broker.StartAgainAsync();
            await worker.ConnectedAsync(i + 2);
        }

        var verdict = await stage.FinishAsync(mayLose: true, settings.Folder);
        return FaultResult.Of(stage, "broker killed (-9), worker at work", kills, verdict) with
        {
            BrokerMayLose = true,
            Failures = worker.HasExited ? ["The worker ended: " + worker.Lines.Last()] : [],
            Notes = [Loss(stage, verdict.LostMessages, kills, UsualRate)],
        };
    }

    /// <summary>With the worker away: every message waits at the broker.</summary>
    public static async Task<FaultResult> WorkerAwayAsync(int kills, int seed, IReadOnlyDictionary<string, string>? broker = null, double rate = UsualRate)
    {
        await using var stage = await FaultStage.SetAsync(seed, broker: broker);
        var settings = stage.Settings("worker");
        var first = stage.Start(settings);
        await first.ConnectedAsync();
        stage.Publisher.Start(rate);

        // Long enough for the shipped configuration to save the session.
        await Task.Delay(TimeSpan.FromSeconds(3));
        await first.StopAsync();
        for (var i = 0; i < kills; i++)
        {
            await Task.Delay(stage.Between(1, 4));
            await stage.Broker.KillAsync();
            await Task.Delay(stage.Between(0, 0.5));
            await stage.Broker.StartAgainAsync();
        }

        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        var verdict = await stage.FinishAsync(mayLose: true, settings.Folder);
        return FaultResult.Of(stage, "broker killed (-9), worker away", kills, verdict) with
        {
            BrokerMayLose = true,
            Notes = [Loss(stage, verdict.LostMessages, kills, rate)],
        };
    }

    private static string Loss(FaultStage stage, long messages, int kills, double rate) => string.Create(
        CultureInfo.InvariantCulture,
        $"The killed broker lost {messages} of {stage.Ledger.BrokerTookMessages} messages it had acknowledged, {messages / (double)kills:0.0} for each kill at {rate:0} messages/s; {stage.Ledger.Unsubscribed} times it said that nobody subscribes.");
}
