using Microsoft.Extensions.Logging;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Store;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Pipeline;

/// <summary>Makes a batch durable, samples first, then rejects, and only then acknowledges its messages. A store that is away is waited for.</summary>
internal sealed class BatchWriter(
    IngestOptions options,
    ITelemetryStore store,
    IRejectLog rejectLog,
    IngestMonitor monitor,
    IngestMetrics metrics,
    TimeProvider time,
    ILogger logger)
{
    // Another stream of jitter than the connection's.
    private readonly Backoff backoff = new(options.RetryFirst, options.RetryLongest, ~Backoff.SeedOf(options.EffectiveClientId));

    private readonly SaidBefore said = new(time);

    public async Task WriteAsync(IngestBatch batch, CancellationToken cancellationToken)
    {
        var since = time.GetTimestamp();
        if (batch.Samples.Count > 0)
        {
            await InsistAsync(batch, ct => store.WriteAsync(batch.Samples, ct), cancellationToken);
        }

        if (batch.Rejects.Rejects.Count > 0)
        {
            await InsistAsync(batch, ct => rejectLog.AddAsync(batch.Rejects.Rejects, ct), cancellationToken);
        }

        metrics.Flushed(batch.Samples.Count, time.GetElapsedTime(since).TotalSeconds, batch.Rejects.Counts);
        monitor.Flushed(batch.Samples.Count, batch.Rejects.Counts, batch.BaseOnly, batch.LeftOut);
        await AcknowledgeAsync(batch, cancellationToken);
    }

    /// <summary>Does something with the store until it works.</summary>
    public async Task InsistAsync(IngestBatch? batch, Func<CancellationToken, Task> act, CancellationToken cancellationToken)
    {
        var failed = false;
        while (true)
        {
            try
            {
                await act(cancellationToken);
                if (failed)
                {
                    backoff.Reset();
                    said.Reset();
                    IngestLog.StoreAvailable(logger);
                }

                return;
            }
            catch (StoreUnavailableException e)
            {
                failed = true;
                monitor.StoreFailed(e.Message);
                var wait = backoff.Next();
                if (said.IsNew(e.Message))
                {
                    IngestLog.StoreUnavailable(logger, batch?.Samples.Count ?? 0, batch?.Rejects.Rejects.Count ?? 0, e.Message, wait.TotalSeconds);
                }

                await Task.Delay(wait, time, cancellationToken);
            }
        }
    }

    private async Task AcknowledgeAsync(IngestBatch batch, CancellationToken cancellationToken)
    {
        long done = 0;
        try
        {
            foreach (var message in batch.Messages)
            {
                if (await message.AcknowledgeAsync(cancellationToken))
                {
                    done++;
                }
            }
        }
        finally
        {
            metrics.Acknowledged(done);
            monitor.Acknowledged(done, batch.Messages.Count - done);
        }
    }
}
