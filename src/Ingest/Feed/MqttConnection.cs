using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Vanehour.Ingest.Feed;

/// <summary>
/// One connection to the broker, from connecting to its loss. Each has a client of its own, so that a message can only be acknowledged
/// on the connection it came by: on another its packet id may already mean another message.
/// </summary>
internal sealed class MqttConnection : IAsyncDisposable
{
    private readonly IngestOptions options;
    private readonly IMqttClient client;
    private readonly Func<MqttApplicationMessageReceivedEventArgs, Task> take;
    private readonly TimeProvider time;
    private readonly TaskCompletionSource<BrokerException> lost = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile bool alive;

    /// <summary>Makes a connection; nothing is sent yet.</summary>
    /// <param name="options">Where and how.</param>
    /// <param name="take">Gets each message, one after the other; must not throw.</param>
    /// <param name="time">The clock.</param>
    public MqttConnection(IngestOptions options, Func<MqttApplicationMessageReceivedEventArgs, Task> take, TimeProvider time)
    {
        this.time = time;
        this.options = options;
        this.take = take;
        client = new MqttClientFactory().CreateMqttClient();
        client.ApplicationMessageReceivedAsync += OnMessageAsync;
        client.DisconnectedAsync += OnDisconnectedAsync;
    }

    /// <summary>Ends when the connection is lost, with the reason.</summary>
    public Task<BrokerException> Lost => lost.Task;

    /// <summary>
    /// Connects and subscribes. It subscribes even where the broker still knows our session, which changes nothing there: settings may be
    /// others than the session's, and a connection that dropped just before subscribing leaves a session without a subscription.
    /// </summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="BrokerException">It did not work.</exception>
    public async Task OpenAsync(CancellationToken cancellationToken)
    {
        var sentences = new BrokerSentences(options);

        // The library minds its own time-out only where no token is given.
        using var limit = new CancellationTokenSource(options.ConnectTimeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellationToken);
        try
        {
            alive = true;
            var result = await client.ConnectAsync(MqttClientSettings.Build(options), either.Token);
            if (result.ResultCode != MqttClientConnectResultCode.Success)
            {
                throw sentences.Refused(result.ResultCode, result.ReasonString);
            }

            await SubscribeAsync(sentences, either.Token);
        }
        catch (Exception e) when (e is MqttCommunicationException or MqttProtocolViolationException or MqttConfigurationException
            or IOException or SocketException or UnauthorizedAccessException or AuthenticationException or CryptographicException
            || (e is OperationCanceledException && !cancellationToken.IsCancellationRequested))
        {
            cancellationToken.ThrowIfCancellationRequested();
            throw sentences.Failed(e);
        }
    }

    /// <summary>Acknowledges a message of this connection.</summary>
    /// <returns>False when the connection is gone.</returns>
    public async Task<bool> AcknowledgeAsync(MqttApplicationMessageReceivedEventArgs message, CancellationToken cancellationToken)
    {
        if (!alive)
        {
            return false;
        }

        try
        {
            await message.AcknowledgeAsync(cancellationToken);
            return alive;
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            throw;
        }
        catch (Exception)
        {
            // The library throws what it likes here once the connection has dropped, NullReferenceException included. Whatever it
            // was, the acknowledgement did not go out, the broker sends the message again, and storing it again changes nothing.
            return false;
        }
    }

    /// <summary>Says good-bye and leaves the session at the broker.</summary>
    public async ValueTask DisposeAsync()
    {
        alive = false;
        if (client.IsConnected)
        {
            try
            {
                using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(2));
                await client.DisconnectAsync(new MqttClientDisconnectOptions(), limit.Token);
            }
            catch (Exception e) when (e is MqttCommunicationException or OperationCanceledException or IOException or ObjectDisposedException)
            {
                // It went away by itself.
            }
        }

        client.Dispose();
    }

    private async Task SubscribeAsync(BrokerSentences sentences, CancellationToken cancellationToken)
    {
        var request = new MqttClientSubscribeOptions();
        foreach (var topic in options.EffectiveTopics)
        {
            var filter = TopicPattern.TryParse(topic, out _)!.Filter;
            request.TopicFilters.Add(new MqttTopicFilter
            {
                Topic = options.ShareName is { } share ? $"$share/{share}/{filter}" : filter,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                RetainHandling = options.ShareName is null
                    ? MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly
                    : MqttRetainHandling.DoNotSendOnSubscribe,
            });
        }

        var result = await client.SubscribeAsync(request, cancellationToken);
        foreach (var item in result.Items)
        {
            if (item.ResultCode != MqttClientSubscribeResultCode.GrantedQoS1)
            {
                throw sentences.SubscriptionRefused(item.TopicFilter.Topic, item.ResultCode);
            }
        }
    }

    private Task OnMessageAsync(MqttApplicationMessageReceivedEventArgs message)
    {
        message.AutoAcknowledge = false;
        return take(message);
    }

    private Task OnDisconnectedAsync(MqttClientDisconnectedEventArgs e)
    {
        alive = false;
        if (e.ClientWasConnected)
        {
            lost.TrySetResult(new BrokerSentences(options).Lost(e.Reason, e.ReasonString, e.Exception));
        }

        return Task.CompletedTask;
    }
}
