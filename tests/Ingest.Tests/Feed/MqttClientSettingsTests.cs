using MQTTnet;
using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests.Feed;

public class MqttClientSettingsTests
{
    // The largest segment on loopback is 64 KiB: a window must hold several, or TCP waits for its timers.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void SocketBuffers_HoldSeveralSegments(bool tls)
    {
        var settings = MqttClientSettings.Build(new IngestOptions { Tls = tls });

        Assert.True(Assert.IsType<MqttClientTcpOptions>(settings.ChannelOptions).BufferSize >= 4 * 64 * 1024);
    }
}
