using Microsoft.Extensions.Hosting;
using Vanehour.Ingest.Health;

namespace Vanehour.Host.Health;

/// <summary>Writes the worker's status every few seconds, and once more when it stops.</summary>
/// <param name="folder">The data folder.</param>
/// <param name="monitor">The worker's monitor.</param>
/// <param name="time">The clock.</param>
internal sealed class WorkerStatusWriter(string folder, IngestMonitor monitor, TimeProvider time) : BackgroundService
{
    /// <inheritdoc/>
    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        Write(isStopping: true);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(WorkerStatus.Every, time);
        do
        {
            Write(isStopping: false);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    private void Write(bool isStopping)
    {
        var s = monitor.Snapshot();
        try
        {
            WorkerStatusFile.Write(folder, new WorkerStatus(
                time.GetUtcNow(),
                Environment.ProcessId,
                s.Running && !isStopping,
                s.Connected,
                s.BrokerProblem,
                s.StoreProblem,
                s.LastTick,
                s.LastFlush,
                s.WaitingSince,
                s.Backlog,
                s.SamplesStored));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A status that cannot be written grows old, and an old one counts as not healthy: that is the message.
        }
    }
}
