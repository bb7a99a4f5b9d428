using System.Threading.Channels;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Pipeline;

/// <summary>
/// Decodes messages into batches and stores them. The next batch is decoded while one is written; what waits is bounded, so that a slow
/// store holds back the channel and with it the broker.
/// </summary>
public sealed class IngestPipeline
{
    private static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(5);

    private readonly IngestOptions options;
    private readonly ITelemetryStore store;
    private readonly IngestMonitor monitor;
    private readonly TimeProvider time;
    private readonly ILogger<IngestPipeline> logger;
    private readonly BatchWriter writer;

    public IngestPipeline(
        IOptions<IngestOptions> options,
        ITelemetryStore store,
        IRejectLog rejects,
        IngestMonitor monitor,
        IngestMetrics metrics,
        TimeProvider time,
        ILogger<IngestPipeline> logger)
    {
        ArgumentNullException.ThrowIfNull(options);
        this.options = options.Value;
        this.store = store;
        this.monitor = monitor;
        this.time = time;
        this.logger = logger;
        writer = new BatchWriter(this.options, store, rejects, monitor, metrics, time, logger);
    }

    /// <summary>Runs until the channel is completed and empty, and everything in it is stored and acknowledged.</summary>
    /// <param name="messages">The messages, in the order of their arrival.</param>
    /// <param name="cancellationToken">Gives up at once. What was not acknowledged comes again.</param>
    public async Task RunAsync(ChannelReader<FeedMessage> messages, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(messages);
        var batches = Channel.CreateBounded<IngestBatch>(new BoundedChannelOptions(1) { SingleReader = true, SingleWriter = true });
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var stages = new[] { Guard(DecodeAsync(messages, batches.Writer, either.Token)), Guard(WriteAsync(batches.Reader, either.Token)) };
        await Task.WhenAll(stages).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);

        // The stage that failed says more than the one that was cancelled because of it.
        await (Array.Find(stages, s => s.IsFaulted) ?? Task.WhenAll(stages));

        async Task Guard(Task stage)
        {
            try
            {
                await stage;
            }
            catch
            {
                await either.CancelAsync();
                throw;
            }
        }
    }

    private async Task DecodeAsync(ChannelReader<FeedMessage> messages, ChannelWriter<IngestBatch> batches, CancellationToken cancellationToken)
    {
        using var intake = new MessageIntake(options, logger);
        await writer.InsistAsync(null, async ct => intake.Know((await store.TrucksAsync(ct)).Select(t => t.Truck)), cancellationToken);
        Task<bool>? more = null;
        while (await WithHeartbeat(more ??= messages.WaitToReadAsync(cancellationToken).AsTask(), cancellationToken))
        {
            var batch = new IngestBatch();
            var due = Task.Delay(options.BatchDelay, time, cancellationToken);
            while (true)
            {
                while (!IsFull(batch) && messages.TryRead(out var message))
                {
                    intake.Take(message, batch);
                }

                monitor.Tick();
                if (IsFull(batch) || due.IsCompleted)
                {
                    break;
                }

                more = messages.WaitToReadAsync(cancellationToken).AsTask();
                await Task.WhenAny(more, due);
                if (more.IsCompletedSuccessfully && !more.Result)
                {
                    break;
                }
            }

            if (more.IsCompleted)
            {
                more = null;
            }

            if (batch.Messages.Count > 0)
            {
                await batches.WriteAsync(batch, cancellationToken);
            }
        }

        batches.Complete();
    }

    // A quiet feed must not look like a dead loop.
    private async Task<bool> WithHeartbeat(Task<bool> more, CancellationToken cancellationToken)
    {
        while (!more.IsCompleted)
        {
            monitor.Tick();
            await Task.WhenAny(more, Task.Delay(Heartbeat, time, cancellationToken));
            cancellationToken.ThrowIfCancellationRequested();
        }

        return await more;
    }

    private async Task WriteAsync(ChannelReader<IngestBatch> batches, CancellationToken cancellationToken)
    {
        await foreach (var batch in batches.ReadAllAsync(cancellationToken))
        {
            await writer.WriteAsync(batch, cancellationToken);
            monitor.Tick();
        }
    }

    private bool IsFull(IngestBatch batch) =>
        batch.Messages.Count >= options.BatchMessages || batch.Samples.Count >= options.BatchSamples;
}
