using System.Globalization;
using System.Text;
using MQTTnet;
using MQTTnet.Protocol;

namespace Vanehour.EndToEnd;

/// <summary>A gateway's side of the feed, written from the formats page alone: it shares no code with the decoder it tests.</summary>
internal sealed class FeedPublisher : IAsyncDisposable
{
    public const int InstantsPerPack = 20;

    private readonly IMqttClient client;

    private FeedPublisher(IMqttClient client) => this.client = client;

    public static async Task<FeedPublisher> ConnectAsync(int port)
    {
        var factory = new MqttClientFactory();
        var client = factory.CreateMqttClient();
        var options = factory.CreateClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithTimeout(TimeSpan.FromMinutes(2)).WithClientId($"gateway-{Guid.NewGuid():N}").Build();
        await client.ConnectAsync(options);
        return new FeedPublisher(client);
    }

    /// <summary>Pack number <paramref name="pack"/> of a truck: 20 instants, 10 s apart, each signal a function of the instant.</summary>
    public static string Pack(string truck, long startS, int pack)
    {
        var text = new StringBuilder("[");
        for (var i = 0; i < InstantsPerPack; i++)
        {
            var n = (pack * InstantsPerPack) + i;
            if (i == 0)
            {
                text.Append(CultureInfo.InvariantCulture, $$"""{"bn":"{{truck}}/","bt":{{startS + ((long)pack * InstantsPerPack * 10)}},"n":"vacuum","u":"kPa","v":{{VacuumKPa(n)}}}""");
            }
            else
            {
                text.Append(CultureInfo.InvariantCulture, $$""",{"n":"vacuum","u":"kPa","t":{{i * 10}},"v":{{VacuumKPa(n)}}}""");
            }

            text.Append(CultureInfo.InvariantCulture, $$""",{"n":"pump_temp","u":"Cel","t":{{i * 10}},"v":{{TemperatureC(n)}}}""");
        }

        return text.Append(']').ToString();
    }

    public static double VacuumKPa(int n) => (n % 600) / 10.0;

    public static double TemperatureC(int n) => 20 + (n % 700 / 10.0);

    public Task SendAsync(string topic, string payload) => SendAsync(topic, Encoding.UTF8.GetBytes(payload));

    public async Task SendAsync(string topic, byte[] payload)
    {
        var result = await client.PublishBinaryAsync(topic, payload, MqttQualityOfServiceLevel.AtLeastOnce);
        Assert.True(result.IsSuccess, result.ReasonString);
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
