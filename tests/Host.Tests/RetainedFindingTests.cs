using System.Text;
using System.Text.Json;
using System.Threading.Channels;
using Microsoft.Extensions.Logging.Abstractions;
using MQTTnet;
using Vanehour.Host.Composition;
using Vanehour.Host.Demo;
using Vanehour.Host.Notices;
using Vanehour.Host.Settings;
using Vanehour.Ingest;
using Vanehour.Ingest.Feed;
using Vanehour.Models.Findings;
using Vanehour.Tests.Loopback;

namespace Vanehour.Host.Tests;

/// <summary>Findings as retained messages, against the embedded broker.</summary>
public sealed class RetainedFindingTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 5, 4, 12, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly CommandLine cli = new();
    private readonly DataFolder data;
    private readonly FindingBook book;

    public RetainedFindingTests()
    {
        data = DataFolder.Open(cli.Data);
        book = new FindingBook(data.Findings);
    }

    public void Dispose()
    {
        data.Dispose();
        cli.Dispose();
    }

    [Fact]
    public async Task Open_IsRetained_Closed_IsCleared()
    {
        await using var broker = await EmbeddedBroker.StartAsync(null);
        await using var publisher = Publisher(broker.Port);
        book.Save([Make("a1"), Make("b1") with { Truck = null, PumpSerial = null, Kind = FindingKind.ForwardingBehind }]);
        Assert.True(await Service(publisher).TellAsync(default));

        // Who comes later still gets them.
        await using (var late = await Listener.StartAsync(broker.Port))
        {
            var told = new[] { await late.NextAsync(), await late.NextAsync() }.ToDictionary(m => m.Topic, m => m.Payload);
            Assert.Equal(["fleet/T1/finding/OilUseHigh", "fleet/finding/ForwardingBehind"], told.Keys.Order(StringComparer.Ordinal));
            using var json = JsonDocument.Parse(told["fleet/T1/finding/OilUseHigh"]);
            Assert.Equal(("a1", "Open"), (json.RootElement.GetProperty("id").GetString(), json.RootElement.GetProperty("status").GetString()));
            Assert.False(json.RootElement.TryGetProperty("event", out _));

            book.Close("a1", new Verdict(null, "Ann", null), Now);
            Assert.True(await Service(publisher).TellAsync(default));
            Assert.Equal(("fleet/T1/finding/OilUseHigh", string.Empty), await late.NextAsync());
        }

        await using var later = await Listener.StartAsync(broker.Port);
        Assert.Equal("fleet/finding/ForwardingBehind", (await later.NextAsync()).Topic);
        await later.SayAsync("fleet/end");
        Assert.Equal("fleet/end", (await later.NextAsync()).Topic);
    }

    [Fact]
    public async Task SecondOfAKind_TakesTheTopicOver_AndItsClosingClearsIt()
    {
        await using var broker = await EmbeddedBroker.StartAsync(null);
        await using var publisher = Publisher(broker.Port);
        await using var listener = await Listener.StartAsync(broker.Port);
        book.Save([Make("a1")]);
        await Service(publisher).TellAsync(default);
        book.Save([Make("a1") with { Status = FindingStatus.Closed, Closed = Now }, Make("a2") with { PumpSerial = "P2", Since = Now }]);
        await Service(publisher).TellAsync(default);
        book.Save([Make("a2") with { Status = FindingStatus.Closed, Closed = Now }]);
        await Service(publisher).TellAsync(default);
        await Service(publisher).TellAsync(default);
        await listener.SayAsync("fleet/end");

        var told = new List<string>();
        for (var message = await listener.NextAsync(); message.Topic != "fleet/end"; message = await listener.NextAsync())
        {
            told.Add(message.Payload.Length == 0 ? "cleared" : JsonDocument.Parse(message.Payload).RootElement.GetProperty("id").GetString()!);
        }

        Assert.Equal(["a1", "a2", "cleared"], told);

        NoticeFile.Open(cli.Data, "mqtt").Note("fleet/T9/finding/CarryOver", new PublishedNotice("no longer known", "x"));
        await Service(publisher).TellAsync(default);
        Assert.Equal(("fleet/T9/finding/CarryOver", string.Empty), await listener.NextAsync());
    }

    [Fact]
    public async Task BrokerThatIsAway_IsToldOnceItIsBack()
    {
        int port;
        using (var nobody = new ReservedPort())
        {
            await using var refused = Publisher(nobody.Number);
            book.Save([Make("a1")]);
            Assert.False(await Service(refused).TellAsync(default));
        }

        await using var broker = await EmbeddedBroker.StartAsync(null);
        port = broker.Port;
        await using var publisher = Publisher(port);
        Assert.True(await Service(publisher).TellAsync(default));
        await using var listener = await Listener.StartAsync(port);
        Assert.Equal("fleet/T1/finding/OilUseHigh", (await listener.NextAsync()).Topic);
    }

    private static RetainedPublisher Publisher(int port) => new(new IngestOptions { Host = "127.0.0.1", Port = port, ClientId = "w" }, TimeProvider.System);

    private static Finding Make(string id) => OilUseHighFinding.Make(id, Now.AddDays(-9));

    private NoticeService Service(RetainedPublisher publisher) => new(
        book, NoticeFile.Open(cli.Data, "mqtt"), new MqttChannel(publisher), new NoticeSettings(), TimeProvider.System, NullLogger<NoticeService>.Instance);

    /// <summary>Another program that reads findings.</summary>
    private sealed class Listener : IAsyncDisposable
    {
        private readonly IMqttClient client = new MqttClientFactory().CreateMqttClient();
        private readonly Channel<(string Topic, string Payload)> heard = Channel.CreateUnbounded<(string, string)>();

        public static async Task<Listener> StartAsync(int port)
        {
            var listener = new Listener();
            listener.client.ApplicationMessageReceivedAsync += e =>
            {
                listener.heard.Writer.TryWrite((e.ApplicationMessage.Topic, Encoding.UTF8.GetString(e.ApplicationMessage.Payload)));
                return Task.CompletedTask;
            };
            await listener.client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId($"listener-{Guid.NewGuid():N}").Build());
            await listener.client.SubscribeAsync("fleet/#", MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce);
            return listener;
        }

        public async Task<(string Topic, string Payload)> NextAsync() => await heard.Reader.ReadAsync().AsTask().WaitAsync(Patience);

        public async Task SayAsync(string topic) => await client.PublishStringAsync(topic, "x", MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce);

        public async ValueTask DisposeAsync()
        {
            await client.DisconnectAsync();
            client.Dispose();
        }
    }
}
