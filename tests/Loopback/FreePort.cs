using System.Net;
using System.Net.Sockets;

namespace Vanehour.Tests.Loopback;

/// <summary>
/// Ports on loopback for programs that must be told one. Between the choice and the program's start another may take the port: whoever starts a program
/// tries again with another. A server inside the test asks for port 0, and a port at which nobody may answer is a ReservedPort.
/// </summary>
internal static class FreePort
{
    // Below the range that systems take the ports of outgoing connections from (32768 and up on Linux): while a server is down to be started again, no client
    // of any program gets its port by chance.
    private const int Lowest = 10_240;
    private const int Count = 21_000;

    // No port twice in one process, and processes that run at the same time begin apart.
    private static int chosen = Environment.ProcessId * 97 % Count;

    /// <summary>A port that nobody uses at this moment.</summary>
    public static int Choose()
    {
        for (var i = 0; i < Count; i++)
        {
            var port = Lowest + (Interlocked.Increment(ref chosen) % Count);
            using var probe = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
            try
            {
                probe.Bind(new IPEndPoint(IPAddress.Loopback, port));
                return port;
            }
            catch (SocketException)
            {
                // Taken.
            }
        }

        throw new InvalidOperationException("No port on loopback is free.");
    }
}
