using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Outbox;

// feed --> WriteAsync --one commit--> outbox (samples.db) --> OutboxForwarder --> InfluxDB
//              |                                                    |                |
//              +--> durable: acknowledge                            +--> remote_truck (extents, touches; samples.db)
//                                                                                    |
// analysis <-- ReadAsync, TrucksAsync, TouchedAsync: only what has been forwarded <--+
//          <-- OldestByTruckAsync: how far that is complete

/// <summary>
/// Takes samples into a local outbox, in one commit, and leaves it to <see cref="OutboxForwarder"/> to bring them to an InfluxDB. What is read is what has been forwarded.
/// Rows are added as they come and never merged in the outbox: the order in which they are sent is the order of arrival, so that the last to arrive wins.
/// </summary>
public sealed class OutboxTelemetryStore : ITelemetryStore, IUnforwarded, IDisposable
{
    private readonly SqliteDatabase database;
    private readonly InfluxTelemetryStore remote;
    private readonly TimeProvider time;
    private readonly OutboxRows rows;
    private OutboxWriter? writer;
    private bool isDisposed;
    private TaskCompletionSource arrived = NewSignal();

    /// <summary>A store that forwards to <paramref name="remote"/>.</summary>
    /// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
    /// <param name="remote">The InfluxDB; the caller disposes it.</param>
    /// <param name="time">The clock.</param>
    public OutboxTelemetryStore(SqliteDatabase database, InfluxTelemetryStore remote, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(database);
        ArgumentNullException.ThrowIfNull(remote);
        ArgumentNullException.ThrowIfNull(time);
        (this.database, this.remote, this.time) = (database, remote, time);
        rows = new OutboxRows(database);
    }

    /// <summary>Puts a batch into the outbox; when the task completes it is durable there. All or nothing.</summary>
    /// <param name="samples">Any number, any order, several for one key allowed.</param>
    /// <param name="cancellationToken">Gives up before the commit, never half-way.</param>
    /// <exception cref="ArgumentException">A sample without a truck, or with an infinite value.</exception>
    /// <exception cref="StoreUnavailableException">The outbox cannot take the batch now (the disk is full, for example); nothing was taken.</exception>
    public async Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(samples);
        cancellationToken.ThrowIfCancellationRequested();
        var batch = new SampleBatch(samples);
        if (batch.Trucks.Count > 0)
        {
            await database.WriteAsync(() => Write(batch, cancellationToken), cancellationToken);
            Interlocked.Exchange(ref arrived, NewSignal()).SetResult();
        }
    }

    /// <inheritdoc/>
    public IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, CancellationToken cancellationToken) =>
        remote.ReadAsync(truck, fromMs, toMs, cancellationToken);

    /// <inheritdoc/>
    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => remote.TrucksAsync(cancellationToken);

    /// <inheritdoc/>
    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => remote.TouchedAsync(cancellationToken);

    /// <inheritdoc/>
    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken) => remote.SettleAsync(touched, cancellationToken);

    /// <inheritdoc/>
    public Task<IReadOnlyDictionary<string, long>> OldestByTruckAsync(CancellationToken cancellationToken) => Task.Run(rows.OldestByTruck, cancellationToken);

    /// <inheritdoc/>
    public Task<ForwardingBacklog> BacklogAsync(CancellationToken cancellationToken) => Task.Run(rows.Backlog, cancellationToken);

    /// <summary>Closes the store once a batch being written is done.</summary>
    public void Dispose()
    {
        var gate = WriteGate.Of(database);
        gate.Wait();
        try
        {
            isDisposed = true;
            writer?.Dispose();
            writer = null;
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Completes when the next batch is durable that this store takes.</summary>
    internal Task NextArrival() => Volatile.Read(ref arrived).Task;

    private static TaskCompletionSource NewSignal() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    private bool Write(SampleBatch batch, CancellationToken cancellationToken)
    {
        ObjectDisposedException.ThrowIf(isDisposed, this);
        try
        {
            writer ??= new OutboxWriter(database.Connect());
            writer.Write(batch, time.GetUtcNow().ToUnixTimeMilliseconds(), cancellationToken);
            return true;
        }
        catch (SqliteException e)
        {
            writer?.Dispose();
            writer = null;
            if (SqliteOutage.Is(e))
            {
                throw SqliteOutage.Explain(database, e);
            }

            throw;
        }
    }
}
