using System.Collections.Immutable;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Health;

/// <summary>Keeps count of what the worker does; every member may be called from any thread.</summary>
/// <param name="time">The clock.</param>
public sealed class IngestMonitor(TimeProvider time)
{
    private readonly Lock gate = new();
    private readonly long[] rejects = new long[Enum.GetValues<RejectReason>().Length];
    private long received;
    private long acknowledged;
    private long unacknowledged;
    private long samples;
    private long baseOnly;
    private long leftOut;
    private long connections;
    private bool running;
    private bool connected;
    private string? brokerProblem;
    private string? storeProblem;
    private DateTimeOffset? lastFlush;
    private DateTimeOffset? lastTick;
    private long waitingSinceTicks;
    private TaskCompletionSource changed = NewSignal();

    /// <summary>Messages received and neither acknowledged nor given up.</summary>
    public long Backlog => Interlocked.Read(ref received) - Interlocked.Read(ref acknowledged) - Interlocked.Read(ref unacknowledged);

    /// <summary>How the worker is doing now.</summary>
    public IngestStatus Snapshot()
    {
        lock (gate)
        {
            var met = ImmutableSortedDictionary.CreateBuilder<RejectReason, long>();
            for (var i = 0; i < rejects.Length; i++)
            {
                if (rejects[i] > 0)
                {
                    met.Add((RejectReason)i, rejects[i]);
                }
            }

            return new IngestStatus
            {
                Running = running,
                Connected = connected,
                BrokerProblem = brokerProblem,
                StoreProblem = storeProblem,
                Connections = connections,
                MessagesReceived = Interlocked.Read(ref received),
                MessagesAcknowledged = acknowledged,
                MessagesUnacknowledged = unacknowledged,
                Backlog = Backlog,
                SamplesStored = samples,
                BaseOnlyRecords = baseOnly,
                LeftOutRecords = leftOut,
                Rejects = met.ToImmutable(),
                LastFlush = lastFlush,
                LastTick = lastTick,
                WaitingSince = Interlocked.Read(ref waitingSinceTicks) is > 0 and var ticks ? new DateTimeOffset(ticks, TimeSpan.Zero) : null,
            };
        }
    }

    /// <summary>Waits until a condition on the status holds. It is looked at after every batch, connection and loss.</summary>
    public async Task<IngestStatus> WaitForAsync(Func<IngestStatus, bool> condition, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(condition);
        while (true)
        {
            Task next;
            lock (gate)
            {
                next = changed.Task;
            }

            var status = Snapshot();
            if (condition(status))
            {
                return status;
            }

            await next.WaitAsync(cancellationToken);
        }
    }

    /// <summary>Waits until so many messages are acknowledged since the worker's start, redeliveries included.</summary>
    public Task<IngestStatus> WaitForAcknowledgedAsync(long messages, CancellationToken cancellationToken) =>
        WaitForAsync(s => s.MessagesAcknowledged >= messages, cancellationToken);

    internal void MessageReceived()
    {
        Interlocked.Increment(ref received);
        if (Interlocked.Read(ref waitingSinceTicks) == 0)
        {
            Interlocked.Exchange(ref waitingSinceTicks, time.GetUtcNow().UtcTicks);
        }
    }

    // Not taken on after all; the broker sends it again.
    internal void MessageLetGo() => Acknowledged(0, 1);

    internal void Tick()
    {
        var now = time.GetUtcNow();
        lock (gate)
        {
            lastTick = now;
        }
    }

    internal void Started() => Change(() => running = true);

    internal void Stopped() => Change(() =>
    {
        running = false;
        connected = false;
    });

    internal void Connected() => Change(() =>
    {
        connected = true;
        connections++;
        brokerProblem = null;
    });

    internal void Disconnected(string problem) => Change(() =>
    {
        connected = false;
        brokerProblem = problem;
    });

    internal void SignedOff() => Change(() => connected = false);

    // A loop that waits for its store is alive.
    internal void StoreFailed(string problem)
    {
        Tick();
        Change(() => storeProblem = problem);
    }

    internal void Flushed(long samplesStored, ReadOnlySpan<long> rejected, long baseOnlyRecords, long leftOutRecords)
    {
        var now = time.GetUtcNow();
        lock (gate)
        {
            storeProblem = null;
            lastFlush = now;
            samples += samplesStored;
            baseOnly += baseOnlyRecords;
            leftOut += leftOutRecords;
            for (var i = 0; i < rejected.Length; i++)
            {
                rejects[i] += rejected[i];
            }
        }
    }

    internal void Acknowledged(long done, long gone) => Change(() =>
    {
        acknowledged += done;
        unacknowledged += gone;

        // First none, then look again: a message that comes in between sets it itself.
        Interlocked.Exchange(ref waitingSinceTicks, 0);
        if (Backlog > 0)
        {
            Interlocked.Exchange(ref waitingSinceTicks, time.GetUtcNow().UtcTicks);
        }
    });

    private static TaskCompletionSource NewSignal() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    private void Change(Action change)
    {
        TaskCompletionSource before;
        lock (gate)
        {
            change();
            before = changed;
            changed = NewSignal();
        }

        before.SetResult();
    }
}
