using System.Globalization;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>A second worker comes with the client id of one that is at work: it must end with a sentence, and the first go on.</summary>
internal static class SecondWorker
{
    public static async Task<FaultResult> RunAsync(int seed)
    {
        await using var stage = await FaultStage.SetAsync(seed);
        var settings = stage.Settings("first", "yard-worker");
        var first = stage.Start(settings);
        await first.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 200);

        // The first has been at work for a while.
        await Task.Delay(TimeSpan.FromSeconds(12));
        var other = stage.Settings("second", "yard-worker");
        var began = stage.Clock.Elapsed;
        var second = stage.Start(other);
        var failures = new List<string>();
        try
        {
            await second.WaitAsync(TimeSpan.FromMinutes(2));
            if (second.ExitCode != 1)
            {
                failures.Add($"The second worker ended with exit code {second.ExitCode}.");
            }
        }
        catch (TimeoutException)
        {
            failures.Add("The second worker did not end within two minutes.");
            await second.KillAsync();
        }

        var tug = stage.Clock.Elapsed - began;
        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder, other.Folder);
        if (first.HasExited)
        {
            failures.Add("The first worker ended too: " + first.Lines.LastOrDefault());
        }

        var sentence = second.Lines.LastOrDefault() ?? "";
        if (!sentence.Contains("client id 'yard-worker'", StringComparison.Ordinal))
        {
            failures.Add("The second worker did not say why it ended: " + sentence);
        }

        return FaultResult.Of(stage, "second worker, same client id", 1, verdict) with
        {
            Notes =
            [
                string.Create(CultureInfo.InvariantCulture, $"It ended after {tug.TotalSeconds:0.0} s, exit code {(second.HasExited ? second.ExitCode : -1)}, saying: {sentence}"),
                "What the broker gave to the second worker before it ended is in the second worker's store: the check is on both.",
            ],
            Failures = failures,
        };
    }
}
