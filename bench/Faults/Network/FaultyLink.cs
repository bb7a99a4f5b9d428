using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Vanehour.Bench.Faults.Feed;

namespace Vanehour.Bench.Faults.Network;

/// <summary>
/// A loopback TCP proxy between workers and broker that can be cut, made slow, or made to swallow bytes in either direction without telling
/// anybody. It also witnesses what workers acknowledge.
/// </summary>
internal sealed class FaultyLink : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly int brokerPort;
    private readonly FeedLedger ledger;
    private readonly Lock gate = new();
    private readonly List<LinkConnection> connections = [];
    private readonly Random jitter;
    private readonly Task accepting;

    public FaultyLink(int brokerPort, FeedLedger ledger, int seed)
    {
        this.brokerPort = brokerPort;
        this.ledger = ledger;
        jitter = new Random(seed);
        listener.Start();
        accepting = AcceptAsync();
    }

    /// <summary>Where workers connect.</summary>
    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>Whether connections are refused.</summary>
    public bool IsCut { get; private set; }

    /// <summary>Whether new connections are taken and never answered.</summary>
    public bool IsSilent { get; private set; }

    /// <summary>Longest delay of each piece in each direction; each is delayed by half of it at least.</summary>
    public TimeSpan Delay { get; set; }

    /// <summary>Connections made so far.</summary>
    public int Connections
    {
        get
        {
            lock (gate)
            {
                return connections.Count;
            }
        }
    }

    /// <summary>Messages delivered and acknowledged over all connections, and those in the hands of workers whose connection stands.</summary>
    public (long Delivered, long Acknowledged, long Outstanding) Traffic()
    {
        lock (gate)
        {
            return (
                connections.Sum(c => c.Witness.Delivered),
                connections.Sum(c => c.Witness.Acknowledged),
                connections.Where(c => !c.Ended.IsCompleted && !c.IsUpDead && !c.IsDownDead).Sum(c => c.Witness.Outstanding));
        }
    }

    /// <summary>Breaks every connection; with <paramref name="refuse"/> new ones are refused until <see cref="Restore"/>.</summary>
    public void Cut(bool refuse)
    {
        IsCut = refuse;
        ForEach(c => c.Reset());
    }

    /// <summary>Lets every connection go dead without telling: bytes of either or both directions vanish. New ones are taken and never answered until <see cref="Restore"/>.</summary>
    public void Silence(bool up, bool down)
    {
        IsSilent = true;
        ForEach(c =>
        {
            c.IsUpDead |= up;
            c.IsDownDead |= down;
        });
    }

    /// <summary>New connections work again. Those that were cut or silenced do not come back.</summary>
    public void Restore() => IsCut = IsSilent = false;

    /// <summary>Waits until every connection that has lost its worker has ended, so that all its worker had said is noted.</summary>
    public async Task QuietAsync()
    {
        LinkConnection[] all;
        lock (gate)
        {
            all = [.. connections];
        }

        await Task.WhenAll(all.Select(c => c.Ended)).WaitAsync(TimeSpan.FromSeconds(60));
    }

    public async ValueTask DisposeAsync()
    {
        listener.Stop();
        await accepting;
        ForEach(c => c.Dispose());
    }

    internal long DelayTicks()
    {
        if (Delay == TimeSpan.Zero)
        {
            return 0;
        }

        lock (jitter)
        {
            return (long)(Delay.TotalSeconds * Stopwatch.Frequency * (0.5 + (0.5 * jitter.NextDouble())));
        }
    }

    private async Task AcceptAsync()
    {
        while (true)
        {
            Socket worker;
            try
            {
                worker = await listener.AcceptSocketAsync();
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                return;
            }

            await JoinAsync(worker);
        }
    }

    private async Task JoinAsync(Socket worker)
    {
        Socket? broker = null;
        if (!IsSilent)
        {
            broker = new Socket(SocketType.Stream, ProtocolType.Tcp);
            try
            {
                if (IsCut)
                {
                    throw new SocketException((int)SocketError.ConnectionRefused);
                }

                await broker.ConnectAsync(IPAddress.Loopback, brokerPort);
            }
            catch (SocketException)
            {
                // Refused, as if nothing listened.
                worker.LingerState = new LingerOption(true, 0);
                worker.Close();
                broker.Dispose();
                return;
            }
        }

        lock (gate)
        {
            connections.Add(new LinkConnection(this, worker, broker, new WireWitness(ledger)));
        }
    }

    private void ForEach(Action<LinkConnection> act)
    {
        LinkConnection[] all;
        lock (gate)
        {
            all = [.. connections];
        }

        Array.ForEach(all, act);
    }
}
