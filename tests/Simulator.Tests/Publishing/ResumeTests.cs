using System.Buffers;
using Microsoft.Extensions.Time.Testing;
using MQTTnet.Server;

namespace Vanehour.Simulator.Tests.Publishing;

public sealed class ResumeTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("resume").FullName;
    private readonly List<string> got = [];
    private readonly int port = MqttPublisherTests.FreePort();

    private string Progress => Path.Combine(folder, "progress.json");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData(1, 0)]
    [InlineData(3, 1)]
    public async Task Resume_PublishesEachMessageExactlyOnce(int connections, double dirt)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = connections, Months = 1, Dirt = dirt });
        var sent = fleet.Messages().Select(m => Line(m.Topic, m.Payload.ToArray())).ToList();
        var options = new PublishOptions { Port = port, Connections = connections, ResumeFile = Progress };
        CancellationTokenSource? stop = null;
        var stopAt = 0;
        using var broker = await StartAsync(count =>
        {
            if (count == stopAt)
            {
                stop?.Cancel();
            }
        });

        // Twice stopped as by Ctrl+C, then to the end, then once more with nothing left to do.
        for (var i = 1; i <= 2; i++)
        {
            stopAt = i * sent.Count / 3;
            using (stop = new CancellationTokenSource())
            {
                await Assert.ThrowsAnyAsync<OperationCanceledException>(
                    () => MqttPublisher.PublishAsync(fleet, options, null, TimeProvider.System, stop.Token));
            }

            Assert.InRange(Arrived().Count, stopAt, sent.Count - 1);
        }

        stop = null;
        var before = Arrived().Count;
        var last = await MqttPublisher.PublishAsync(fleet, options, null, TimeProvider.System, CancellationToken.None);
        Assert.Equal((before, sent.Count - before), (last.PublishedBefore, last.Messages));
        Assert.Equal(sent.Order(StringComparer.Ordinal), Arrived().Order(StringComparer.Ordinal));
        if (connections == 1)
        {
            Assert.Equal(sent, Arrived());
        }

        var again = await MqttPublisher.PublishAsync(fleet, options, null, TimeProvider.System, CancellationToken.None);
        Assert.Equal((sent.Count, 0), (again.PublishedBefore, again.Messages));
        Assert.Equal(sent.Count, Arrived().Count);
        Assert.Equal([Progress], Directory.GetFiles(folder));
        await broker.StopAsync();
    }

    [Fact]
    public async Task Resume_AfterALostConnectionLeavesNothingOut()
    {
        var fleet = One();
        var options = new PublishOptions { Port = port, ResumeFile = Progress };
        using (var broker = await StartAsync(_ => { }))
        {
            broker.InterceptingPublishAsync += async e =>
            {
                if (Arrived().Count == 200)
                {
                    e.CloseConnection = true;
                    await broker.DisconnectClientAsync(e.ClientId, MQTTnet.Protocol.MqttDisconnectReasonCode.AdministrativeAction);
                }
            };
            var lost = await Assert.ThrowsAsync<PublishFailedException>(
                () => MqttPublisher.PublishAsync(fleet, options, null, TimeProvider.System, CancellationToken.None));
            Assert.Equal(PublishFailure.ConnectionLost, lost.Failure);
            await broker.StopAsync();
        }

        using (var broker = await StartAsync(_ => { }))
        {
            var result = await MqttPublisher.PublishAsync(fleet, options, null, TimeProvider.System, CancellationToken.None);
            Assert.InRange(result.PublishedBefore, 1, 200);
            await broker.StopAsync();
        }

        // QoS 1: what was under way may come twice.
        Assert.Equal(
            fleet.Messages().Select(m => Line(m.Topic, m.Payload.ToArray())).ToHashSet(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            Arrived().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Resume_IsSavedEveryFewSecondsWhileItGoesOn()
    {
        var time = new FakeTimeProvider();
        using var arrived = new SemaphoreSlim(0);
        using var broker = await StartAsync(_ => arrived.Release());
        using var stop = new CancellationTokenSource();
        var options = new PublishOptions { Port = port, ResumeFile = Progress, Pace = PublishPace.Real };
        var publishing = MqttPublisher.PublishAsync(One(), options, null, time, stop.Token);
        Assert.True(await arrived.WaitAsync(TimeSpan.FromSeconds(20)));
        Assert.False(File.Exists(Progress));
        for (var i = 0; i < 400 && !(File.Exists(Progress) && File.ReadAllText(Progress).EndsWith(":1}", StringComparison.Ordinal)); i++)
        {
            // The acknowledgement comes in its own time; less simulated time than the second message needs passes by.
            time.Advance(TimeSpan.FromSeconds(i == 0 ? 3 : 0.1));
            await Task.Delay(50);
        }

        Assert.EndsWith(":1}", File.ReadAllText(Progress), StringComparison.Ordinal);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => publishing);
        await broker.StopAsync();
    }

    [Fact]
    public async Task Resume_RefusesTheFileOfAnotherFleet()
    {
        using var broker = await StartAsync(_ => { });
        var options = new PublishOptions { Port = port, ResumeFile = Progress };
        await MqttPublisher.PublishAsync(One(), options, null, TimeProvider.System, CancellationToken.None);
        var count = Arrived().Count;
        foreach (var other in new[] { new SimulationOptions { Trucks = 1, Months = 1, Seed = 2 }, new SimulationOptions { Trucks = 1, Months = 1, Dirt = 0.5 } })
        {
            var e = await Assert.ThrowsAsync<PublishFailedException>(
                () => MqttPublisher.PublishAsync(SimulatedFleet.Create(other), options, null, TimeProvider.System, CancellationToken.None));
            Assert.Equal(PublishFailure.ResumeRefused, e.Failure);
            Assert.Contains("belongs to another simulated fleet", e.Message, StringComparison.Ordinal);
        }

        Assert.Equal(count, Arrived().Count);
        await broker.StopAsync();
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("{\"fingerprint\":\"x\"}")]
    [InlineData("{\"fingerprint\":\"x\",\"acknowledged\":-1}")]
    public async Task Resume_SaysWhenTheFileCannotBeUnderstood(string text)
    {
        await File.WriteAllTextAsync(Progress, text);
        var e = await Assert.ThrowsAsync<PublishFailedException>(() => MqttPublisher.PublishAsync(
            One(), new PublishOptions { Port = port, ResumeFile = Progress }, null, TimeProvider.System, CancellationToken.None));
        Assert.Equal(PublishFailure.ResumeRefused, e.Failure);
        Assert.Contains("cannot be understood", e.Message, StringComparison.Ordinal);
    }

    private static SimulatedFleet One() => SimulatedFleet.Create(new SimulationOptions { Trucks = 1, Months = 1 });

    private static string Line(string topic, byte[] payload) => topic + Convert.ToHexString(payload);

    private List<string> Arrived()
    {
        lock (got)
        {
            return [.. got];
        }
    }

    private async Task<MqttServer> StartAsync(Action<int> arrived)
    {
        var broker = MqttPublisherTests.Broker(port);
        broker.InterceptingPublishAsync += e =>
        {
            int count;
            lock (got)
            {
                got.Add(Line(e.ApplicationMessage.Topic, e.ApplicationMessage.Payload.ToArray()));
                count = got.Count;
            }

            arrived(count);
            return Task.CompletedTask;
        };
        await broker.StartAsync();
        return broker;
    }
}
