using System.Globalization;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>The data folder's disk fills up under load, stays full for a while, and gets space again. Every other time the worker is killed meanwhile.</summary>
internal static class DiskFull
{
    private const string Name = "disk full";
    private const string FullLine = "The store cannot take a batch";
    private const string BackLine = "The store takes batches again";

    public static async Task<FaultResult> RunAsync(int times, int seed, bool influx = false)
    {
        var (disk, reason) = await SmallDisk.TryMountAsync(megabytes: 48);
        if (disk is null)
        {
            return FaultResult.Skipped(Name, reason);
        }

        await using var mounted = disk;
        await using var stage = await FaultStage.SetAsync(seed, influx: influx);
        var settings = stage.Settings("worker") with { Folder = Path.Combine(disk.Folder, "data") };
        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        stage.Publisher.Start(messagesPerSecond: 300);
        var failures = new List<string>();
        var notes = new List<string>();
        for (var i = 0; i < times; i++)
        {
            await Task.Delay(stage.Between(0.5, 1.5));
            var said = worker.Count(FullLine);
            disk.Fill();
            if (!await worker.SaysAsync(FullLine, TimeSpan.FromSeconds(60), said + 1))
            {
                failures.Add("The worker did not say that the disk is full.");
            }

            // What is in the log's own space may still be stored and acknowledged; what counts is that the check below finds it.
            await Task.Delay(TimeSpan.FromSeconds(2));
            var before = stage.Link.Traffic().Acknowledged;
            await Task.Delay(TimeSpan.FromSeconds(3));
            var acknowledged = stage.Link.Traffic().Acknowledged - before;
            if (i == 0)
            {
                notes.Add("It says: " + (worker.Lines.FirstOrDefault(l => l.Contains(FullLine, StringComparison.Ordinal)) ?? "nothing").Replace(disk.Folder, "DIR", StringComparison.Ordinal));
                notes.Add(string.Create(CultureInfo.InvariantCulture, $"Messages acknowledged in 3 s of a full disk: {acknowledged}."));
            }

            if (i % 2 == 1)
            {
                await worker.KillAsync();
                worker = stage.Start(settings);
                await Task.Delay(TimeSpan.FromSeconds(3));
                notes.Add(worker.HasExited
                    ? $"Started on the full disk it ended with exit code {worker.ExitCode}: {worker.Lines.LastOrDefault()?.Replace(disk.Folder, "DIR", StringComparison.Ordinal)}"
                    : "Started on the full disk it runs, and waits for space.");
                disk.Free();
                if (worker.HasExited)
                {
                    worker = stage.Start(settings);
                }

                await worker.ConnectedAsync();
                continue;
            }

            disk.Free();
            if (!await worker.SaysAsync(BackLine, TimeSpan.FromSeconds(60), worker.Count(BackLine) + 1))
            {
                failures.Add("The worker did not go on when the disk had space again: " + worker.Lines.LastOrDefault());
                if (worker.HasExited)
                {
                    worker = stage.Start(settings);
                    await worker.ConnectedAsync();
                }
            }
        }

        notes.Add(await disk.RemountAsync(readOnly: true)
            ? "The running worker's disk could be made read-only, which was not expected; made writable again."
            : "A disk cannot be made read-only under a running worker (the kernel refuses), so that was tried at its start only.");
        await disk.RemountAsync(readOnly: false);
        await worker.KillAsync();
        worker = await StartReadOnlyAsync(stage, settings, disk, notes, failures);
        var verdict = await stage.FinishAsync(mayLose: false, settings.Folder);
        await worker.StopAsync();
        return FaultResult.Of(stage, Name, times, verdict) with { Notes = notes, Failures = failures };
    }

    // A worker that finds its folder read-only ends with a sentence; once the folder is writable another goes on.
    private static async Task<ChildProcess> StartReadOnlyAsync(
        FaultStage stage, WorkerSettings settings, SmallDisk disk, List<string> notes, List<string> failures)
    {
        if (await disk.RemountAsync(readOnly: true))
        {
            var refused = WorkerProcess.Launch(settings, stage.Link.Port);
            await using (refused)
            {
                await refused.WaitAsync(TimeSpan.FromMinutes(1));
                notes.Add($"Started on a read-only disk it ended with exit code {refused.ExitCode}: {refused.Lines.LastOrDefault()?.Replace(disk.Folder, "DIR", StringComparison.Ordinal)}");
                if (refused.ExitCode != 1)
                {
                    failures.Add("A worker on a read-only disk did not end with exit code 1.");
                }
            }

            await disk.RemountAsync(readOnly: false);
        }

        var worker = stage.Start(settings);
        await worker.ConnectedAsync();
        return worker;
    }
}
