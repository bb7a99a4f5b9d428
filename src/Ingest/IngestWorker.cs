using System.Threading.Channels;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Ingest.Pipeline;

namespace Vanehour.Ingest;

// broker --MQTT 5, QoS 1--> MqttFeed --bounded channel--> decode and batch --one batch--> BatchWriter --> ITelemetryStore, IRejectLog
//    ^                      one client a connection       MessageIntake                       |
//    |                      never works, never throws     SampleDecoder, RejectSheet          | durable
//    +----------------------------------- acknowledge, on the connection it came by ----------+
//
// A slow store fills the slot for the batch, then the channel, then the receive maximum: the broker waits and keeps.
// Stopping goes from left to right: take no more, decode what is there, store it, acknowledge it, disconnect.

/// <summary>
/// Runs the feed and the pipeline. A failure that no retry can mend escapes from it: <see cref="BrokerException"/> with a sentence for a
/// person, or a programming error.
/// </summary>
public sealed class IngestWorker(
    MqttFeed feed,
    IngestPipeline pipeline,
    IOptions<IngestOptions> options,
    IngestMonitor monitor,
    TimeProvider time,
    ILogger<IngestWorker> logger) : BackgroundService
{
    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        IngestLog.Starting(logger, options.Value.ToString());
        monitor.Started();
        var channel = Channel.CreateBounded<FeedMessage>(
            new BoundedChannelOptions(options.Value.ChannelCapacity) { FullMode = BoundedChannelFullMode.Wait, SingleReader = true });
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
        using var giveUp = new CancellationTokenSource();
        try
        {
            var storing = pipeline.RunAsync(channel.Reader, giveUp.Token);
            var receiving = feed.RunAsync(channel.Writer, stop.Token);
            await Task.WhenAny(receiving, storing);
            await stop.CancelAsync();
            await receiving.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            channel.Writer.TryComplete();
            await DrainAsync(storing, giveUp);
            LogEnd();
            if (storing.IsFaulted)
            {
                await storing;
            }

            await receiving;
        }
        catch (BrokerException e)
        {
            IngestLog.Failed(logger, e.Message);
            throw;
        }
        finally
        {
            await feed.DisposeAsync();
            monitor.Stopped();
        }
    }

    private async Task DrainAsync(Task storing, CancellationTokenSource giveUp)
    {
        using var limit = new CancellationTokenSource(options.Value.DrainLimit, time);
        await using var registration = limit.Token.Register(giveUp.Cancel);
        await storing.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private void LogEnd()
    {
        var status = monitor.Snapshot();
        if (status.Backlog > 0)
        {
            IngestLog.LeftBehind(logger, status.Backlog);
        }

        IngestLog.Stopped(logger, status.MessagesAcknowledged, status.SamplesStored, status.RejectsTotal);
    }
}
