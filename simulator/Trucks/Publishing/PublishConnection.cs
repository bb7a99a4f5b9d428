using System.Buffers;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Vanehour.Simulator.Publishing;

/// <summary>One connection to the broker with a bounded number of unacknowledged messages. Messages go out in the order in which they were given.</summary>
internal sealed class PublishConnection : IAsyncDisposable
{
    private readonly PublishOptions options;
    private readonly IMqttClient client;
    private readonly SemaphoreSlim permits;
    private PublishFailedException? failure;

    private PublishConnection(PublishOptions options, IMqttClient client)
    {
        this.options = options;
        this.client = client;
        permits = new SemaphoreSlim(options.MaxInFlight);
    }

    /// <summary>Connects.</summary>
    /// <exception cref="PublishFailedException">The broker cannot be reached or turns the connection down.</exception>
    public static async Task<PublishConnection> OpenAsync(PublishOptions options, string clientId, CancellationToken cancellationToken)
    {
        var factory = new MqttClientFactory();
        var builder = factory.CreateClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(clientId)
            .WithCleanStart(true)
            .WithKeepAlivePeriod(TimeSpan.FromSeconds(30));
        if (options.User is not null)
        {
            builder.WithCredentials(options.User, options.Password);
        }

        if (options.UseTls)
        {
            var authorities = new X509Certificate2Collection();
            if (options.CaFile is { } file)
            {
                authorities.ImportFromPemFile(file);
            }

            builder.WithTlsOptions(tls =>
            {
                tls.UseTls().WithTargetHost(options.Host);
                if (authorities.Count > 0)
                {
                    tls.WithTrustChain(authorities);
                }
            });
        }

        var connection = new PublishConnection(options, factory.CreateMqttClient());
        try
        {
            var result = await connection.client.ConnectAsync(builder.Build(), cancellationToken).ConfigureAwait(false);
            if (result.ResultCode != MqttClientConnectResultCode.Success)
            {
                throw new PublishFailedException(
                    PublishFailure.ConnectionRefused, $"The broker at {connection.Address} refused the connection: {result.ResultCode}.");
            }

            return connection;
        }
        catch (MqttCommunicationException e)
        {
            await connection.DisposeAsync().ConfigureAwait(false);
            throw new PublishFailedException(PublishFailure.Unreachable, $"No broker could be reached at {connection.Address}: {e.Message}", e);
        }
        catch
        {
            await connection.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    private string Address => FormattableString.Invariant($"{options.Host}:{options.Port}");

    /// <summary>Waits until fewer than the allowed number of messages are unacknowledged, then sends this one without waiting for its acknowledgement.</summary>
    /// <param name="message">The message.</param>
    /// <param name="acknowledged">Called when it is acknowledged, on any thread; null for nobody.</param>
    /// <param name="cancellationToken">Gives up the waiting.</param>
    /// <exception cref="PublishFailedException">This or an earlier message failed.</exception>
    public async Task SendAsync(SimulatedMessage message, Action? acknowledged, CancellationToken cancellationToken)
    {
        await permits.WaitAsync(cancellationToken).ConfigureAwait(false);
        if (failure is not null)
        {
            permits.Release();
            throw failure;
        }

        var outgoing = new MqttApplicationMessageBuilder()
            .WithTopic(message.Topic)
            .WithPayload(new ReadOnlySequence<byte>(message.Payload))
            .WithContentType("application/senml+json")
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
            .Build();

        // The client queues its sends first come first served, so starting them one after another keeps the order.
        _ = CompleteAsync(outgoing, acknowledged);
    }

    /// <summary>Waits until every message is acknowledged.</summary>
    /// <exception cref="PublishFailedException">One failed.</exception>
    public async Task DrainAsync(CancellationToken cancellationToken)
    {
        for (var i = 0; i < options.MaxInFlight; i++)
        {
            await permits.WaitAsync(cancellationToken).ConfigureAwait(false);
        }

        permits.Release(options.MaxInFlight);
        if (failure is not null)
        {
            throw failure;
        }
    }

    /// <summary>Says goodbye to the broker.</summary>
    public Task CloseAsync(CancellationToken cancellationToken) => client.DisconnectAsync(new MqttClientDisconnectOptions(), cancellationToken);

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        // The semaphore holds no handle; sends that are still under way may release it later.
        client.Dispose();
        return ValueTask.CompletedTask;
    }

    private async Task CompleteAsync(MqttApplicationMessage outgoing, Action? acknowledged)
    {
        try
        {
            // Inside, because a client that is not connected throws at once instead of through the task.
            var result = await client.PublishAsync(outgoing, CancellationToken.None).ConfigureAwait(false);
            if (!result.IsSuccess)
            {
                failure ??= new PublishFailedException(
                    PublishFailure.MessageRefused, $"The broker at {Address} refused a message: {result.ReasonCode}.");
            }
            else
            {
                acknowledged?.Invoke();
            }
        }
        catch (Exception e)
        {
            // Whatever ended the send, it is kept and thrown by the next call: nobody awaits this task.
            failure ??= new PublishFailedException(PublishFailure.ConnectionLost, $"The connection to the broker at {Address} broke off: {e.Message}", e);
        }
        finally
        {
            permits.Release();
        }
    }
}
