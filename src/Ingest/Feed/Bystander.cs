using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using MQTTnet;
using MQTTnet.Exceptions;

namespace Vanehour.Ingest.Feed;

/// <summary>
/// A second connection under a client id that nobody else has, without a session or subscription. It is opened only when our session seems to
/// have been taken over: when the broker closes our connection and keeps the bystander's, then it did not restart and the network did not fail.
/// </summary>
internal sealed class Bystander : IAsyncDisposable
{
    private readonly IMqttClient client;

    private Bystander(IMqttClient client) => this.client = client;

    /// <summary>Whether the broker still keeps it.</summary>
    public bool IsConnected => client.IsConnected;

    /// <summary>Connects one, or returns null where the broker lets none in: then nothing is known, as without it.</summary>
    public static async Task<Bystander?> TryConnectAsync(IngestOptions options, TimeProvider time, CancellationToken stopping)
    {
        using var limit = new CancellationTokenSource(options.ConnectTimeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, stopping);
        var bystander = new Bystander(new MqttClientFactory().CreateMqttClient());
        try
        {
            var settings = MqttClientSettings.Build(options);
            settings.ClientId = $"{options.EffectiveClientId}-{Guid.NewGuid():N}";
            settings.CleanSession = true;
            settings.SessionExpiryInterval = 0;
            if ((await bystander.client.ConnectAsync(settings, either.Token)).ResultCode == MqttClientConnectResultCode.Success)
            {
                return bystander;
            }
        }
        catch (Exception e) when (e is MqttCommunicationException or MqttProtocolViolationException or MqttConfigurationException
            or IOException or SocketException or UnauthorizedAccessException or AuthenticationException or CryptographicException
            || (e is OperationCanceledException && !stopping.IsCancellationRequested))
        {
            // Not let in: see above.
        }

        await bystander.DisposeAsync();
        return null;
    }

    public ValueTask DisposeAsync()
    {
        // Nothing to say good-bye to: it has no session.
        client.Dispose();
        return ValueTask.CompletedTask;
    }
}
