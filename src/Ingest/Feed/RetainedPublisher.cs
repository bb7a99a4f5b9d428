using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using System.Text;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;

namespace Vanehour.Ingest.Feed;

/// <summary>Publishes retained messages to the feed's broker under a client id of its own; it connects when there is something to say, and again after a loss.</summary>
/// <param name="options">Where and how; the client id gets an ending.</param>
/// <param name="time">The clock.</param>
public sealed class RetainedPublisher(IngestOptions options, TimeProvider time) : IAsyncDisposable
{
    /// <summary>What is added to the worker's client id.</summary>
    public const string ClientIdEnding = "-findings";

    private IMqttClient? client;

    /// <summary>Publishes at least once; when it returns the broker has it.</summary>
    /// <param name="topic">The topic.</param>
    /// <param name="payload">The payload; an empty one clears what is retained.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="BrokerException">The broker cannot be reached or does not take it.</exception>
    public async Task PublishAsync(string topic, string payload, CancellationToken cancellationToken)
    {
        var sentences = new BrokerSentences(options);
        using var limit = new CancellationTokenSource(options.ConnectTimeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellationToken);
        try
        {
            var open = await OpenAsync(sentences, either.Token);
            var message = new MqttApplicationMessageBuilder()
                .WithTopic(topic)
                .WithPayload(Encoding.UTF8.GetBytes(payload))
                .WithContentType(payload.Length == 0 ? null : "application/json")
                .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithRetainFlag()
                .Build();
            var result = await open.PublishAsync(message, either.Token);
            if (!result.IsSuccess)
            {
                throw new BrokerException($"the broker does not take {topic}: {result.ReasonCode} {result.ReasonString}".TrimEnd());
            }
        }
        catch (Exception e) when (e is MqttCommunicationException or MqttProtocolViolationException or MqttConfigurationException
            or IOException or SocketException or UnauthorizedAccessException or AuthenticationException or CryptographicException
            || (e is OperationCanceledException && !cancellationToken.IsCancellationRequested))
        {
            cancellationToken.ThrowIfCancellationRequested();
            Drop();
            throw sentences.Failed(e);
        }
    }

    /// <summary>Says good-bye.</summary>
    public async ValueTask DisposeAsync()
    {
        if (client is { IsConnected: true } open)
        {
            try
            {
                using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(2));
                await open.DisconnectAsync(new MqttClientDisconnectOptions(), limit.Token);
            }
            catch (Exception e) when (e is MqttCommunicationException or OperationCanceledException or IOException or ObjectDisposedException)
            {
                // It went away by itself.
            }
        }

        Drop();
    }

    private async Task<IMqttClient> OpenAsync(BrokerSentences sentences, CancellationToken cancellationToken)
    {
        if (client is { IsConnected: true } open)
        {
            return open;
        }

        Drop();
        client = new MqttClientFactory().CreateMqttClient();
        var settings = MqttClientSettings.Build(options);

        // Nothing is kept for it while it is away.
        settings.ClientId = options.EffectiveClientId + ClientIdEnding;
        settings.CleanSession = true;
        settings.SessionExpiryInterval = 0;
        var result = await client.ConnectAsync(settings, cancellationToken);
        return result.ResultCode == MqttClientConnectResultCode.Success ? client : throw sentences.Refused(result.ResultCode, result.ReasonString);
    }

    private void Drop()
    {
        client?.Dispose();
        client = null;
    }
}
