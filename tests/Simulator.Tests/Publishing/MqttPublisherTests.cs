using System.Buffers;
using System.Net;
using Microsoft.Extensions.Time.Testing;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Vanehour.Simulator.Tests.Publishing;

public class MqttPublisherTests
{
    private static readonly CancellationToken None = CancellationToken.None;

    [Theory]
    [InlineData(1, 50)]
    [InlineData(2, 7)]
    public async Task Publish_BringsEveryMessageOnceAndInOrderOfEachTruck(int connections, int inFlight)
    {
        var got = new List<(string Topic, byte[] Payload)>();
        var port = FreePort();
        using var broker = Broker(port);
        broker.InterceptingPublishAsync += e =>
        {
            lock (got)
            {
                got.Add((e.ApplicationMessage.Topic, e.ApplicationMessage.Payload.ToArray()));
                Assert.Equal(MqttQualityOfServiceLevel.AtLeastOnce, e.ApplicationMessage.QualityOfServiceLevel);
                Assert.Equal("application/senml+json", e.ApplicationMessage.ContentType);
            }

            return Task.CompletedTask;
        };
        await broker.StartAsync();

        var fleet = Fleets.Small();
        var reports = new List<PublishProgress>();
        var progress = new Recorder(reports);
        var options = new PublishOptions { Port = port, Connections = connections, MaxInFlight = inFlight };
        var result = await MqttPublisher.PublishAsync(fleet, options, progress, TimeProvider.System, None);

        var totals = fleet.Count();
        Assert.Equal((totals.Messages, totals.Samples, totals.PayloadBytes), (result.Messages, result.Samples, result.PayloadBytes));
        Assert.Equal(totals.Messages, got.Count);
        foreach (var truck in fleet.Trucks)
        {
            var topic = $"fleet/{truck.Id}/pump";
            Assert.Equal(
                fleet.Messages().Where(m => m.Topic == topic).Select(m => Convert.ToHexString(m.Payload.Span)),
                got.Where(m => m.Topic == topic).Select(m => Convert.ToHexString(m.Payload)));
        }

        Assert.Equal(new PublishProgress(totals.Messages, totals.Samples, fleet.End, 1), reports[^1]);
        Assert.True(reports.Zip(reports.Skip(1)).All(p => p.Second.Share >= p.First.Share));
        await broker.StopAsync();
    }

    [Fact]
    public async Task Publish_SaysWhenNothingAnswers()
    {
        var options = new PublishOptions { Port = FreePort() };
        var e = await Assert.ThrowsAsync<PublishFailedException>(
            () => MqttPublisher.PublishAsync(Fleets.Small(), options, null, TimeProvider.System, None));
        Assert.Equal(PublishFailure.Unreachable, e.Failure);
    }

    [Fact]
    public async Task Publish_SaysWhenTheUserIsRefused()
    {
        var port = FreePort();
        using var broker = Broker(port);
        broker.ValidatingConnectionAsync += e =>
        {
            e.ReasonCode = e.Password == "right" ? MqttConnectReasonCode.Success : MqttConnectReasonCode.BadUserNameOrPassword;
            return Task.CompletedTask;
        };
        await broker.StartAsync();

        var options = new PublishOptions { Port = port, User = "gateway", Password = "wrong" };
        var e = await Assert.ThrowsAsync<PublishFailedException>(
            () => MqttPublisher.PublishAsync(Fleets.Small(), options, null, TimeProvider.System, None));
        Assert.Equal(PublishFailure.ConnectionRefused, e.Failure);
        Assert.Contains("BadUserNameOrPassword", e.Message, StringComparison.Ordinal);
        await broker.StopAsync();
    }

    [Fact]
    public async Task Publish_SaysWhenAMessageIsRefused()
    {
        var port = FreePort();
        using var broker = Broker(port);
        broker.InterceptingPublishAsync += e =>
        {
            e.Response.ReasonCode = MqttPubAckReasonCode.NotAuthorized;
            e.ProcessPublish = false;
            return Task.CompletedTask;
        };
        await broker.StartAsync();

        var e = await Assert.ThrowsAsync<PublishFailedException>(
            () => MqttPublisher.PublishAsync(Fleets.Small(), new PublishOptions { Port = port }, null, TimeProvider.System, None));
        Assert.Equal(PublishFailure.MessageRefused, e.Failure);
        await broker.StopAsync();
    }

    [Fact]
    public async Task Publish_SaysWhenTheConnectionBreaksOff()
    {
        var port = FreePort();
        using var broker = Broker(port);
        var seen = 0;
        broker.InterceptingPublishAsync += async e =>
        {
            if (Interlocked.Increment(ref seen) == 40)
            {
                e.CloseConnection = true;
                await broker.DisconnectClientAsync(e.ClientId, MqttDisconnectReasonCode.AdministrativeAction);
            }
        };
        await broker.StartAsync();

        var e = await Assert.ThrowsAsync<PublishFailedException>(
            () => MqttPublisher.PublishAsync(Fleets.Small(), new PublishOptions { Port = port }, null, TimeProvider.System, None));
        Assert.Equal(PublishFailure.ConnectionLost, e.Failure);
        await broker.StopAsync();
    }

    [Fact]
    public async Task Publish_AtRealPaceKeepsTheMessagesApart()
    {
        var port = FreePort();
        using var broker = Broker(port);
        var arrived = new SemaphoreSlim(0);
        broker.InterceptingPublishAsync += e =>
        {
            arrived.Release();
            return Task.CompletedTask;
        };
        await broker.StartAsync();

        var fleet = Fleets.Small();
        var messages = fleet.Messages().Take(3).ToList();
        var time = new FakeTimeProvider();
        using var stop = new CancellationTokenSource();
        var publishing = MqttPublisher.PublishAsync(fleet, new PublishOptions { Port = port, Pace = PublishPace.Real }, null, time, stop.Token);

        Assert.True(await arrived.WaitAsync(TimeSpan.FromSeconds(20)));
        var elapsed = TimeSpan.Zero;
        for (var i = 1; i < messages.Count; i++)
        {
            var due = TimeSpan.FromMilliseconds(messages[i].SentUnixMs - messages[0].SentUnixMs);
            var almost = due - TimeSpan.FromMilliseconds(1);
            if (elapsed < almost)
            {
                Advance(almost - elapsed);
                Assert.False(await arrived.WaitAsync(TimeSpan.FromMilliseconds(200)));
            }

            Advance(due > elapsed ? due - elapsed : TimeSpan.Zero);
            if (!await arrived.WaitAsync(TimeSpan.FromSeconds(10)))
            {
                // On a busy machine the publisher may have read the clock before it was moved on and set its timer after: that one is due as much later.
                Advance(due);
                Assert.True(await arrived.WaitAsync(TimeSpan.FromSeconds(20)));
            }
        }

        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => publishing);
        await broker.StopAsync();

        void Advance(TimeSpan by)
        {
            elapsed += by;
            time.Advance(by);
        }
    }

    [Fact]
    public void Options_KeepThePasswordOutOfTheirText() =>
        Assert.DoesNotContain("secret", new PublishOptions { Password = "secret" }.ToString(), StringComparison.Ordinal);

    [Theory]
    [InlineData(0, 50, 1)]
    [InlineData(70000, 50, 1)]
    [InlineData(1883, 0, 1)]
    [InlineData(1883, 50, 0)]
    public void Options_RefuseWhatIsOutOfRange(int port, int inFlight, int connections) =>
        Assert.ThrowsAny<ArgumentException>(() => new PublishOptions { Port = port, MaxInFlight = inFlight, Connections = connections }.Validate());

    internal static MqttServer Broker(int port) => new MqttServerFactory().CreateMqttServer(new MqttServerOptionsBuilder()
        .WithDefaultEndpoint()
        .WithDefaultEndpointPort(port)
        .WithDefaultEndpointBoundIPAddress(IPAddress.Loopback)
        .WithDefaultEndpointBoundIPV6Address(IPAddress.None)
        .WithMaxPendingMessagesPerClient(100_000)
        .Build());

    internal static int FreePort() => Vanehour.Tests.Loopback.FreePort.Choose();

    /// <summary>Reports at once, on the caller's thread: Progress posts them elsewhere.</summary>
    private sealed class Recorder(List<PublishProgress> reports) : IProgress<PublishProgress>
    {
        public void Report(PublishProgress value) => reports.Add(value);
    }
}
