using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Outbox;

// outbox rows --oldest first--> points --what will they change?--> noted (forwarding) --> sent --> accounted for and deleted, in one commit
//                                                                                          |
//                                     refused points --> rejects <-------------------------+
//                                                                                          |
//                              every few seconds a note for the other workers <------------+
//
// A crash at any point leaves rows that are sent again: a point overwrites itself. What was noted before the first sending is not asked again, because
// the server may hold the points by then and they would look like old news.

/// <summary>Brings the outbox to the InfluxDB, in order, and takes away what has arrived there. One at a time per data folder; run it once.</summary>
public sealed class OutboxForwarder
{
    // Other processes put rows into the outbox too, and tell nobody.
    private static readonly TimeSpan LookAgain = TimeSpan.FromSeconds(1);

    private readonly SqliteDatabase database;
    private readonly InfluxTelemetryStore remote;
    private readonly OutboxTelemetryStore outbox;
    private readonly WorkerNotes notes;
    private readonly TimeProvider time;

    // One request: of two, the first would have to be sent again whenever the second fails, and a server in trouble might never take both in a row.
    private readonly int batchRows;
    private readonly OutboxRows rows;
    private readonly RetryWait wait;
    private readonly Lock gate = new();
    private ForwardingState state = ForwardingState.Ended;
    private string? problem;
    private ForwardingBacklog backlog = ForwardingBacklog.None;
    private long forwarded;
    private long refused;
    private DateTimeOffset? lastForwarded;

    /// <summary>A forwarder; it is not running yet.</summary>
    /// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
    /// <param name="outbox">The store that fills the outbox.</param>
    /// <param name="remote">The InfluxDB.</param>
    /// <param name="notes">By which other workers hear of what was forwarded.</param>
    /// <param name="options">How long to wait between attempts.</param>
    /// <param name="time">The clock.</param>
    public OutboxForwarder(SqliteDatabase database, OutboxTelemetryStore outbox, InfluxTelemetryStore remote, WorkerNotes notes, InfluxOptions options, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(database);
        ArgumentNullException.ThrowIfNull(outbox);
        ArgumentNullException.ThrowIfNull(remote);
        ArgumentNullException.ThrowIfNull(notes);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        (this.database, this.outbox, this.remote, this.notes, this.time) = (database, outbox, remote, notes, time);
        batchRows = options.BatchLines;
        rows = new OutboxRows(database);
        wait = new RetryWait(options.RetryFirst, options.RetryLongest, new Random(Environment.ProcessId));
    }

    /// <summary>Raised when the state or the problem changes, from the forwarder's own thread; must not block.</summary>
    public event Action<ForwardingStatus>? Changed;

    /// <summary>How forwarding is doing; what waits is as of this moment where the outbox can be read.</summary>
    public ForwardingStatus Status()
    {
        ForwardingBacklog? current = null;
        try
        {
            current = rows.Backlog();
        }
        catch (StoreUnavailableException)
        {
            // The last known stands.
        }

        lock (gate)
        {
            backlog = current ?? backlog;
            return new ForwardingStatus(state, problem, backlog, forwarded, refused, lastForwarded);
        }
    }

    /// <summary>Forwards until cancelled. Whatever the server or the disk do, it goes on trying.</summary>
    public async Task RunAsync(CancellationToken cancellationToken)
    {
        FileStream? turn = null;
        try
        {
            while (true)
            {
                cancellationToken.ThrowIfCancellationRequested();
                turn ??= ForwarderLockOrNull();
                if (turn is null)
                {
                    await Task.Delay(LookAgain, time, cancellationToken);
                }
                else
                {
                    await StepAsync(cancellationToken);
                }
            }
        }
        finally
        {
            if (turn is not null)
            {
                await turn.DisposeAsync();
            }

            Set(ForwardingState.Ended, problem);
        }
    }

    /// <summary>Forwards until the outbox is empty; fails where the server does not take the samples. For tests and commands: no other forwarder may be running.</summary>
    /// <returns>How many points were forwarded or refused.</returns>
    /// <exception cref="StoreUnavailableException">The server or samples.db cannot be used now.</exception>
    public async Task<long> DrainAsync(CancellationToken cancellationToken)
    {
        long total = 0;
        try
        {
            while (await ForwardAsync(cancellationToken) is > 0 and var points)
            {
                total += points;
            }

            await notes.SendAsync(now: true, cancellationToken);
            return total;
        }
        catch (InfluxException e)
        {
            throw e.AsUnavailable();
        }
    }

    private FileStream? ForwarderLockOrNull()
    {
        try
        {
            var turn = ForwarderLock.TryTake(database.Path);
            Set(turn is null ? ForwardingState.StandingBy : ForwardingState.Idle, null);
            return turn;
        }
        catch (StoreUnavailableException e)
        {
            Set(ForwardingState.Waiting, e.Message);
            return null;
        }
    }

    private async Task StepAsync(CancellationToken cancellationToken)
    {
        var pause = TimeSpan.Zero;
        try
        {
            var next = outbox.NextArrival();
            if (await ForwardAsync(cancellationToken) == 0)
            {
                await notes.SendAsync(now: false, cancellationToken);
                wait.Reset();
                Set(ForwardingState.Idle, null);
                await Task.WhenAny(next, Task.Delay(LookAgain, time, cancellationToken));
            }
            else
            {
                await notes.SendAsync(now: false, cancellationToken);
                wait.Reset();
                Set(ForwardingState.Forwarding, null);
            }
        }
        catch (InfluxException e)
        {
            Set(e.Failure == InfluxFailure.NeedsPerson ? ForwardingState.Stopped : ForwardingState.Waiting, e.Message);
            pause = wait.Next(e.RetryAfter);
        }
        catch (StoreUnavailableException e)
        {
            Set(ForwardingState.Waiting, e.Message);
            pause = wait.Next(null);
        }

        if (pause > TimeSpan.Zero)
        {
            await Task.Delay(pause, time, cancellationToken);
        }
    }

    private async Task<int> ForwardAsync(CancellationToken cancellationToken)
    {
        var front = await Task.Run(() => rows.Read(batchRows), cancellationToken);
        if (front.Samples.Count == 0)
        {
            return 0;
        }

        var points = RemotePoints.Of(new SampleBatch(front.Samples));
        var changes = front.Changes;
        if (changes is null || changes.Length != points.Count)
        {
            changes = await remote.FindChangesAsync(points, cancellationToken);
            await rows.SendingAsync(front.LastSeq, changes, cancellationToken);
        }

        var bad = await remote.SendAsync(points, cancellationToken);
        await remote.RejectAsync(points, bad);
        await rows.SentAsync(front.LastSeq, points, changes, bad);
        lock (gate)
        {
            forwarded += points.Count - bad.Count;
            refused += bad.Count;
            lastForwarded = time.GetUtcNow();
        }

        return points.Count;
    }

    private void Set(ForwardingState now, string? why)
    {
        lock (gate)
        {
            if (state == now && problem == why)
            {
                return;
            }

            (state, problem) = (now, why);
        }

        Changed?.Invoke(Status());
    }
}
