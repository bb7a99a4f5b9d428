using System.Net;
using System.Net.Sockets;
using Vanehour.Host.Demo;

namespace Vanehour.Host.Tests;

public class EmbeddedBrokerTests
{
    [Fact]
    public async Task ClientWithoutAnId_IsTakenIn_AsMqtt5_3_1_3_1Asks()
    {
        await using var broker = await EmbeddedBroker.StartAsync(null);
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, broker.Port);
        var stream = client.GetStream();

        // CONNECT, MQTT 5, clean start, keep-alive 60 s, no properties, an id of no length.
        await stream.WriteAsync(new byte[] { 0x10, 13, 0, 4, (byte)'M', (byte)'Q', (byte)'T', (byte)'T', 5, 2, 0, 60, 0, 0, 0 });

        var answer = new byte[4];
        await stream.ReadExactlyAsync(answer);
        Assert.Equal(0x20, answer[0]);
        Assert.Equal(0, answer[3]);
    }
}
