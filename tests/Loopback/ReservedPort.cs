using System.Net;
using System.Net.Sockets;

namespace Vanehour.Tests.Loopback;

/// <summary>A port on loopback that is held and at which nobody listens: connections are refused, and no other program can take it meanwhile.</summary>
internal sealed class ReservedPort : IDisposable
{
    public ReservedPort() => Socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));

    public int Number => ((IPEndPoint)Socket.LocalEndPoint!).Port;

    /// <summary>The bound socket, for a server that is to listen on it later.</summary>
    public Socket Socket { get; } = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);

    public void Dispose() => Socket.Dispose();
}
