using System.Buffers;
using System.Threading.Channels;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using MQTTnet;
using Vanehour.Ingest.Health;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Feed;

/// <summary>
/// Keeps a connection to the broker and hands what arrives to a channel. A connection that is lost is made again, for ever, with jittered
/// and capped waits; a session taken over by another client of the same id ends it instead, for the two would throw each other out in turn.
/// </summary>
public sealed class MqttFeed : IAsyncDisposable
{
    // A connection that held this long was a good one: the next wait starts short again.
    private static readonly TimeSpan Settled = TimeSpan.FromSeconds(10);

    // A broker that goes away closes all its connections, if not in the same instant.
    private static readonly TimeSpan Grace = TimeSpan.FromMilliseconds(200);

    private readonly IngestOptions options;
    private readonly IngestMonitor monitor;
    private readonly IngestMetrics metrics;
    private readonly TimeProvider time;
    private readonly ILogger<MqttFeed> logger;
    private MqttConnection? connection;
    private Bystander? bystander;

    public MqttFeed(
        IOptions<IngestOptions> options, IngestMonitor monitor, IngestMetrics metrics, TimeProvider time, ILogger<MqttFeed> logger)
    {
        ArgumentNullException.ThrowIfNull(options);
        this.options = options.Value;
        this.monitor = monitor;
        this.metrics = metrics;
        this.time = time;
        this.logger = logger;
    }

    /// <summary>
    /// Receives until asked to stop. Then it takes no more messages and returns, with the connection kept so that what was taken can
    /// still be acknowledged; <see cref="DisposeAsync"/> ends it.
    /// </summary>
    /// <param name="messages">Gets the messages; while it is full the broker is held back.</param>
    /// <param name="stopping">Asks it to stop.</param>
    /// <exception cref="BrokerException">The first connection failed and settings ask to fail fast, or the session was taken over.</exception>
    public async Task RunAsync(ChannelWriter<FeedMessage> messages, CancellationToken stopping)
    {
        ArgumentNullException.ThrowIfNull(messages);
        var backoff = new Backoff(options.RetryFirst, options.RetryLongest, Backoff.SeedOf(options.EffectiveClientId));
        var takeover = new TakeoverWatch(options);
        var said = new SaidBefore(time);
        var everConnected = false;
        while (!stopping.IsCancellationRequested)
        {
            try
            {
                await OpenAsync(messages, stopping);
                everConnected = true;
                said.Reset();
                var since = time.GetTimestamp();
                await WatchAsync(takeover.IsSuspected, stopping);
                var lost = await connection!.Lost.WaitAsync(stopping);
                monitor.Disconnected(lost.Message);
                var lasted = time.GetElapsedTime(since);
                takeover.ThrowIfTaken(lost, lasted < Settled, await BrokerStayedAsync(stopping));
                if (lasted >= Settled)
                {
                    backoff.Reset();
                }

                var wait = backoff.Next();
                IngestLog.ConnectionLost(logger, lost.Message, wait.TotalSeconds);
                await CloseAsync();
                await Task.Delay(wait, time, stopping);
            }
            catch (BrokerException e) when (e.Failure != BrokerFailure.SessionTakenOver && (everConnected || !options.FailFast))
            {
                monitor.Disconnected(e.Message);
                takeover.Reset();
                var wait = backoff.Next();
                if (said.IsNew(e.Message))
                {
                    IngestLog.ConnectionFailed(logger, e.Message, wait.TotalSeconds);
                }

                await Task.Delay(wait, time, stopping).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
            catch (OperationCanceledException) when (stopping.IsCancellationRequested)
            {
                break;
            }
            catch (BrokerException e)
            {
                monitor.Disconnected(e.Message);
                throw;
            }
        }
    }

    /// <summary>Disconnects; the broker keeps the session.</summary>
    public async ValueTask DisposeAsync()
    {
        await CloseAsync();
        await WatchAsync(isSuspected: false, CancellationToken.None);
        monitor.SignedOff();
    }

    // A bystander stands by for as long as a takeover is suspected.
    private async Task WatchAsync(bool isSuspected, CancellationToken stopping)
    {
        if (bystander is { } old && !(isSuspected && old.IsConnected))
        {
            bystander = null;
            await old.DisposeAsync();
        }

        if (isSuspected)
        {
            bystander ??= await Bystander.TryConnectAsync(options, time, stopping);
        }
    }

    private async Task<bool?> BrokerStayedAsync(CancellationToken stopping)
    {
        if (bystander is null)
        {
            return null;
        }

        await Task.Delay(Grace, time, stopping);
        return bystander.IsConnected;
    }

    private async Task OpenAsync(ChannelWriter<FeedMessage> messages, CancellationToken stopping)
    {
        MqttConnection? opening = null;
        opening = new MqttConnection(options, e => TakeAsync(opening!, e, messages, stopping), time);
        try
        {
            await opening.OpenAsync(stopping);
        }
        catch
        {
            await opening.DisposeAsync();
            throw;
        }

        connection = opening;
        metrics.Connected();
        monitor.Connected();
        IngestLog.Connected(logger, options.Broker.ToString(), options.EffectiveClientId);
    }

    private async Task CloseAsync()
    {
        if (Interlocked.Exchange(ref connection, null) is { } closing)
        {
            await closing.DisposeAsync();
        }
    }

    // Called by the library, one message at a time: no work here, and nothing may be thrown.
    private async Task TakeAsync(
        MqttConnection from, MqttApplicationMessageReceivedEventArgs e, ChannelWriter<FeedMessage> messages, CancellationToken stopping)
    {
        if (stopping.IsCancellationRequested)
        {
            return;
        }

        monitor.MessageReceived();
        metrics.Received();
        try
        {
            var payload = e.ApplicationMessage.Payload;
            var tooLarge = payload.Length > options.MaxPayloadBytes;
            var message = new FeedMessage(
                e.ApplicationMessage.Topic,
                (tooLarge ? payload.Slice(0, Reject.KeptBytes) : payload).ToArray(),
                payload.Length,
                time.GetUtcNow().ToUnixTimeMilliseconds(),
                cancellation => from.AcknowledgeAsync(e, cancellation));
            if (!messages.TryWrite(message))
            {
                await messages.WriteAsync(message, stopping);
            }
        }
        catch (Exception x) when (x is OperationCanceledException or ChannelClosedException)
        {
            // Not taken on, so not acknowledged: the broker sends it again.
            monitor.MessageLetGo();
        }
    }
}
