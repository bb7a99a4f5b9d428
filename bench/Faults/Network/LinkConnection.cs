using System.Diagnostics;
using System.Net.Sockets;
using System.Threading.Channels;

namespace Vanehour.Bench.Faults.Network;

/// <summary>One connection through the link: worker's end, broker's end, and what lies between.</summary>
internal sealed class LinkConnection : IDisposable
{
    private const int ChunkBytes = 16 * 1024;

    private readonly FaultyLink link;
    private readonly Socket worker;
    private readonly Socket? broker;

    /// <summary>Joins two ends.</summary>
    /// <param name="link">Says how long bytes take.</param>
    /// <param name="worker">The worker's end.</param>
    /// <param name="broker">The broker's end; null: there is none, and nothing the worker sends is ever answered.</param>
    /// <param name="witness">Watches.</param>
    public LinkConnection(FaultyLink link, Socket worker, Socket? broker, WireWitness witness)
    {
        this.link = link;
        this.worker = worker;
        this.broker = broker;
        Witness = witness;
        worker.NoDelay = true;
        Ended = RunAsync();
    }

    public WireWitness Witness { get; }

    /// <summary>Ends when both directions have.</summary>
    public Task Ended { get; }

    /// <summary>Whether what the worker sends gets lost, for ever. Nobody is told.</summary>
    public bool IsUpDead { get; set; }

    /// <summary>Whether what the broker sends gets lost, for ever. Nobody is told.</summary>
    public bool IsDownDead { get; set; }

    /// <summary>Breaks the connection as a router that has lost its state does: reset on both ends.</summary>
    public void Reset()
    {
        foreach (var socket in new[] { worker, broker })
        {
            try
            {
                socket?.LingerState = new LingerOption(true, 0);
                socket?.Close();
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                // It had ended by itself.
            }
        }
    }

    public void Dispose() => Reset();

    private async Task RunAsync()
    {
        if (broker is null)
        {
            await DiscardAsync(worker);
        }
        else
        {
            broker.NoDelay = true;
            await Task.WhenAll(
                PassAsync(worker, broker, () => IsUpDead, Witness.FromWorker),
                PassAsync(broker, worker, () => IsDownDead, Witness.FromBroker));
        }

        Reset();
    }

    private static async Task DiscardAsync(Socket from)
    {
        var buffer = new byte[ChunkBytes];
        try
        {
            while (await from.ReceiveAsync(buffer) > 0)
            {
                // Swallowed.
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // It gave up.
        }
    }

    // What was read is witnessed even where it then gets lost: who sent it has said it.
    private async Task PassAsync(Socket from, Socket to, Func<bool> isDead, Action<ReadOnlySpan<byte>> witness)
    {
        var line = Channel.CreateBounded<(long Due, byte[] Bytes)>(256);
        var writing = WriteAsync(line.Reader, to, isDead);
        var buffer = new byte[ChunkBytes];
        try
        {
            while (await from.ReceiveAsync(buffer) is > 0 and var count)
            {
                var isLost = isDead();
                if (!isLost || from == worker)
                {
                    witness(buffer.AsSpan(0, count));
                }

                if (!isLost)
                {
                    await line.Writer.WriteAsync((Stopwatch.GetTimestamp() + link.DelayTicks(), buffer.AsSpan(0, count).ToArray()));
                }
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The end is gone; the other end is told below.
        }

        line.Writer.Complete();
        await writing;
        if (!isDead())
        {
            Reset();
        }
    }

    private static async Task WriteAsync(ChannelReader<(long Due, byte[] Bytes)> line, Socket to, Func<bool> isDead)
    {
        await foreach (var (due, bytes) in line.ReadAllAsync())
        {
            var wait = Stopwatch.GetElapsedTime(Stopwatch.GetTimestamp(), due);
            if (wait > TimeSpan.Zero)
            {
                await Task.Delay(wait);
            }

            if (isDead())
            {
                continue;
            }

            try
            {
                for (var sent = 0; sent < bytes.Length;)
                {
                    sent += await to.SendAsync(bytes.AsMemory(sent));
                }
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                // The rest is read and dropped, so that the reading side does not stand still.
            }
        }
    }
}
