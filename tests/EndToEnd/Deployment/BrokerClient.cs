using System.Collections.Concurrent;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>A client of the broker that tells what it was allowed and what it was sent.</summary>
internal sealed class BrokerClient : IAsyncDisposable
{
    private readonly IMqttClient client = new MqttClientFactory().CreateMqttClient();

    private BrokerClient() => client.ApplicationMessageReceivedAsync += e =>
    {
        Received.Enqueue(e.ApplicationMessage.Topic);
        return Task.CompletedTask;
    };

    /// <summary>The topics of the messages received.</summary>
    public ConcurrentQueue<string> Received { get; } = new();

    /// <summary>Connects; a refusal comes as its result code or as the library's exception.</summary>
    public static async Task<(BrokerClient Client, MqttClientConnectResultCode Result)> ConnectAsync(
        int port, string? caFile, string? user = null, string? password = null, (string Certificate, string Key)? identity = null, string? session = null)
    {
        var result = new BrokerClient();
        var options = new MqttClientOptionsBuilder()
            .WithTcpServer("localhost", port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithTimeout(TimeSpan.FromSeconds(60))
            .WithClientId(session ?? $"test-{Guid.NewGuid():N}")
            .WithCleanStart(session is null)
            .WithSessionExpiryInterval(session is null ? 0u : 3600u);
        if (user is not null)
        {
            options.WithCredentials(user, password);
        }

        if (caFile is not null)
        {
            var authorities = new X509Certificate2Collection();
            authorities.ImportFromPemFile(caFile);
            options.WithTlsOptions(tls =>
            {
                tls.UseTls().WithTargetHost("localhost").WithTrustChain(authorities).WithRevocationMode(X509RevocationMode.NoCheck);
                if (identity is { } own)
                {
                    tls.WithClientCertificates([X509Certificate2.CreateFromPemFile(own.Certificate, own.Key)]);
                }
            });
        }

        try
        {
            return (result, (await result.client.ConnectAsync(options.Build())).ResultCode);
        }
        catch
        {
            await result.DisposeAsync();
            throw;
        }
    }

    public async Task<MqttClientPublishReasonCode> PublishAsync(string topic) =>
        (await client.PublishStringAsync(topic, "[]", MqttQualityOfServiceLevel.AtLeastOnce)).ReasonCode;

    public Task SubscribeAsync(string filter) => client.SubscribeAsync(filter, MqttQualityOfServiceLevel.AtLeastOnce);

    public async Task WaitForAsync(int messages)
    {
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        while (Received.Count < messages)
        {
            await Task.Delay(20, limit.Token);
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (client.IsConnected)
        {
            await client.DisconnectAsync();
        }

        client.Dispose();
    }
}
