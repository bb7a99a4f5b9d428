using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using Vanehour.Ingest.Tests.Brokers;

namespace Vanehour.Ingest.Tests.Worker;

/// <summary>Publishes packs as a truck's gateway does: QoS 1, one after the other, each confirmed by the broker.</summary>
internal sealed class TestPublisher : IAsyncDisposable
{
    // 2026-01-02T08:00:00Z.
    public const long FirstSecond = 1_767_340_800;

    private readonly IMqttClient client = new MqttClientFactory().CreateMqttClient();

    public static Task<TestPublisher> ConnectAsync(MosquittoBroker broker) => ConnectAsync(broker.Port);

    public static async Task<TestPublisher> ConnectAsync(int port, string? clientId = null)
    {
        var publisher = new TestPublisher();
        await publisher.client.ConnectAsync(new MqttClientOptionsBuilder()
            .WithTcpServer("127.0.0.1", port)
            .WithTimeout(WorkerRig.Patience)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(clientId ?? Guid.NewGuid().ToString("N"))
            .Build());
        return publisher;
    }

    /// <summary>Publishes one message for each second of a range; its vacuum is the second's number, so that each can be told apart.</summary>
    public async Task PublishAsync(int from, int count, string truck = "T07")
    {
        for (var i = from; i < from + count; i++)
        {
            await PublishAsync(
                FormattableString.Invariant($$"""[{"bn":"{{truck}}/","bt":{{FirstSecond + i}},"n":"pto_hours","u":"h","v":{{i}}}]"""), $"fleet/{truck}/pump");
        }
    }

    public async Task PublishAsync(string payload, string topic)
    {
        var result = await client.PublishAsync(new MqttApplicationMessageBuilder()
            .WithTopic(topic).WithPayload(payload).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build());
        Assert.True(result.IsSuccess);
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
