using System.Net;
using System.Net.Sockets;
using MQTTnet.Server;

namespace Vanehour.Host.Demo;

/// <summary>A broker inside this process, on loopback only, for the demo and for trying things out.</summary>
public sealed class EmbeddedBroker : IAsyncDisposable
{
    // The library's default of 1 000 drops the oldest message of a slow reader; nothing may be dropped here.
    private const int PendingMessages = 1_000_000;

    // Another program may take a free port between the choice and the start.
    private const int Attempts = 5;

    private readonly MqttServer server;

    private EmbeddedBroker(MqttServer server, int port)
    {
        this.server = server;
        Port = port;
    }

    public int Port { get; }

    /// <summary>Starts on <paramref name="port"/>, or on a free port when it is null.</summary>
    /// <exception cref="CommandFailedException">The port is taken.</exception>
    public static async Task<EmbeddedBroker> StartAsync(int? port)
    {
        for (var attempt = 1; port is null && attempt < Attempts; attempt++)
        {
            try
            {
                return await StartOnAsync(FreePort());
            }
            catch (CommandFailedException)
            {
                // Taken meanwhile.
            }
        }

        return await StartOnAsync(port ?? FreePort());
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await server.StopAsync();
        server.Dispose();
    }

    private static async Task<EmbeddedBroker> StartOnAsync(int port)
    {
        var factory = new MqttServerFactory();
        var options = factory.CreateServerOptionsBuilder()
            .WithDefaultEndpoint()
            .WithDefaultEndpointPort(port)
            .WithDefaultEndpointBoundIPAddress(IPAddress.Loopback)
            .WithDefaultEndpointBoundIPV6Address(IPAddress.None)
            .WithPersistentSessions(true)
            .WithMaxPendingMessagesPerClient(PendingMessages)
            .Build();
        var server = factory.CreateMqttServer(options);

        // A client without an id is to be given one by the broker (MQTT 5, 3.1.3.1); the library leaves that to us. Of MQTT 3.1.1
        // it refuses such clients whatever we say here: those must bring an id.
        server.ValidatingConnectionAsync += e =>
        {
            if (string.IsNullOrEmpty(e.ClientId))
            {
                e.AssignedClientIdentifier = $"unnamed-{Guid.NewGuid():N}";
            }

            return Task.CompletedTask;
        };
        try
        {
            await server.StartAsync();
        }
        catch (SocketException e)
        {
            server.Dispose();
            throw new CommandFailedException($"Port {port} is taken or not allowed; choose another one with --port.", e);
        }

        return new EmbeddedBroker(server, port);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
