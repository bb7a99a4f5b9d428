using System.Diagnostics;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Vanehour.Bench.Faults.Feed;

/// <summary>
/// A gateway: publishes at QoS 1 straight to the broker, several messages in flight, and sends each again until the broker has acknowledged it. Connects
/// again whenever the broker comes back.
/// </summary>
internal sealed class LoadPublisher : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly int port;
    private readonly MessagePlan plan;
    private readonly FeedLedger ledger;
    private readonly int window;
    private readonly SemaphoreSlim permits;
    private readonly SemaphoreSlim connecting = new(1, 1);
    private readonly CancellationTokenSource stop = new();
    private IMqttClient? client;
    private Task running = Task.CompletedTask;
    private long sent;
    private volatile bool paused;

    /// <summary>A publisher; nothing is sent yet.</summary>
    /// <param name="port">The broker's port on loopback.</param>
    /// <param name="plan">What to send.</param>
    /// <param name="ledger">Gets to know what was sent and acknowledged.</param>
    /// <param name="window">Messages in flight at most.</param>
    public LoadPublisher(int port, MessagePlan plan, FeedLedger ledger, int window = 100)
    {
        this.port = port;
        this.plan = plan;
        this.ledger = ledger;
        this.window = window;
        permits = new SemaphoreSlim(window);
    }

    /// <summary>Publishes at a rate until told to finish.</summary>
    public void Start(double messagesPerSecond) => running = RunAsync(messagesPerSecond);

    /// <summary>Stops taking new messages and waits until the broker has acknowledged all that were sent.</summary>
    public async Task PauseAsync()
    {
        paused = true;
        await AllAcknowledgedAsync();
    }

    /// <summary>Goes on after <see cref="PauseAsync"/>.</summary>
    public void Resume() => paused = false;

    /// <summary>Stops, sends what the plan has held back, and waits until the broker has acknowledged everything.</summary>
    /// <param name="least">It goes on until it has sent so many; only for a publisher that was started with a rate.</param>
    public async Task FinishAsync(int least = 0)
    {
        while (Interlocked.Read(ref sent) < least && !running.IsCompleted)
        {
            await Task.Delay(10);
        }

        await stop.CancelAsync();
        await running;
        while (plan.NextHeldBack() is { } late)
        {
            await SendAsync(late);
        }

        await AllAcknowledgedAsync();
    }

    /// <summary>Publishes so many messages as fast as the broker takes them, and waits for their acknowledgements.</summary>
    public async Task PublishAsync(int messages)
    {
        for (var i = 0; i < messages; i++)
        {
            await SendAsync(plan.Next());
        }

        await AllAcknowledgedAsync();
    }

    /// <summary>Sends a message once a permit is free; does not wait for its acknowledgement.</summary>
    public async Task SendAsync(PlannedMessage message)
    {
        await permits.WaitAsync();
        Interlocked.Increment(ref sent);
        _ = InsistAsync(message);
    }

    /// <summary>Waits until everything sent is acknowledged.</summary>
    public async Task AllAcknowledgedAsync()
    {
        for (var i = 0; i < window; i++)
        {
            await permits.WaitAsync().WaitAsync(TimeSpan.FromMinutes(3));
        }

        permits.Release(window);
    }

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        await running;
        client?.Dispose();
        stop.Dispose();
    }

    private async Task RunAsync(double messagesPerSecond)
    {
        var clock = Stopwatch.StartNew();
        var due = 0.0;
        var last = 0.0;
        while (!stop.IsCancellationRequested)
        {
            await Task.Delay(10);
            var now = clock.Elapsed.TotalSeconds;

            // What a stalled broker kept from going out is not made up for in a rush.
            due = Math.Min(due + ((now - last) * messagesPerSecond), messagesPerSecond);
            last = now;
            for (; due >= 1 && !paused && !stop.IsCancellationRequested; due--)
            {
                await SendAsync(plan.Next());
            }
        }
    }

    private async Task InsistAsync(PlannedMessage message)
    {
        var payload = message.Encode();
        ledger.Sent(message, payload);
        var outgoing = new MqttApplicationMessageBuilder()
            .WithTopic(message.Topic)
            .WithPayload(payload)
            .WithContentType("application/senml+json")
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
            .Build();
        while (true)
        {
            try
            {
                using var limit = new CancellationTokenSource(Patience);
                var connected = await ConnectedAsync(limit.Token);
                var result = await connected.PublishAsync(outgoing, limit.Token);
                if (result.ReasonCode == MqttClientPublishReasonCode.Success)
                {
                    ledger.BrokerTook(message, payload);
                    break;
                }

                if (result.ReasonCode == MqttClientPublishReasonCode.NoMatchingSubscribers)
                {
                    ledger.NobodySubscribes();
                }
            }
            catch (Exception)
            {
                // The library throws many kinds when a connection breaks; whatever it was, there was no acknowledgement, so it goes out again.
            }

            await Task.Delay(50);
        }

        permits.Release();
    }

    private async Task<IMqttClient> ConnectedAsync(CancellationToken cancellationToken)
    {
        if (client is { IsConnected: true } ready)
        {
            return ready;
        }

        await connecting.WaitAsync(cancellationToken);
        try
        {
            if (client is { IsConnected: true } meanwhile)
            {
                return meanwhile;
            }

            client?.Dispose();
            var factory = new MqttClientFactory();
            client = factory.CreateMqttClient();
            var settings = factory.CreateClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithProtocolVersion(MqttProtocolVersion.V500)
                .WithClientId("gateway").WithCleanStart(true).Build();

            // The library's 8 KiB would make the publisher the slowest of all.
            ((MqttClientTcpOptions)settings.ChannelOptions).BufferSize = 256 * 1024;
            var result = await client.ConnectAsync(settings, cancellationToken);
            return result.ResultCode == MqttClientConnectResultCode.Success
                ? client
                : throw new InvalidOperationException($"The broker refused the publisher: {result.ResultCode}.");
        }
        finally
        {
            connecting.Release();
        }
    }
}
