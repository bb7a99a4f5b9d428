using System.Runtime.CompilerServices;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// Samples in samples.db. One writer at a time in this process; readers, and other processes, read what was committed last meanwhile.
/// Reading goes page by page with no transaction open in between, so that however slow a reader is the write-ahead log can be checkpointed.
/// </summary>
public sealed class SqliteTelemetryStore : ICountingTelemetryStore, IDisposable
{
    private const int PageRows = 20_000;
    private const int DeletedRows = 10_000;

    private readonly SqliteDatabase database;
    private SampleWriter? writer;
    private bool isDisposed;

    /// <summary>A store on <paramref name="database"/>, opened with <see cref="SamplesSchema"/>.</summary>
    public SqliteTelemetryStore(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">A sample without a truck, or with an infinite value.</exception>
    public Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken) => WriteCountedAsync(samples, cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">A sample without a truck, or with an infinite value.</exception>
    public async Task<WriteTally> WriteCountedAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(samples);
        cancellationToken.ThrowIfCancellationRequested();
        var batch = new SampleBatch(samples);
        return batch.Trucks.Count > 0
            ? await database.WriteAsync(() => Write(batch, cancellationToken), cancellationToken)
            : default;
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    public async IAsyncEnumerable<Sample> ReadAsync(
        string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(truck);
        var page = new List<Sample>();
        do
        {
            cancellationToken.ThrowIfCancellationRequested();
            var from = fromMs;
            page.Clear();
            await Task.Run(() => ReadPage(truck, from, toMs, page), cancellationToken);
            foreach (var sample in page)
            {
                yield return sample;
            }

            // No overflow: an instant that was read lies below toMs.
            fromMs = page.Count > 0 ? page[^1].UnixMs + 1 : toMs;
        }
        while (page.Count == PageRows);
    }

    /// <summary>
    /// What is stored of each truck that was ever heard, in order of the trucks' ids (ordinal). Where <see cref="DeleteBeforeAsync"/> has left
    /// a truck nothing, it is still listed, with 0 samples and the last instant it had.
    /// </summary>
    /// <param name="cancellationToken">Stops before reading.</param>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => TruckTable.Local.TrucksAsync(database, cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => TruckTable.Local.TouchedAsync(database, cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The store cannot be changed now; the touch stays.</exception>
    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(touched);
        return TruckTable.Local.SettleAsync(database, touched, cancellationToken);
    }

    /// <summary>
    /// Deletes the samples before <paramref name="ms"/> (Unix ms) and keeps the extents right; touches nothing, because runs outlive their samples.
    /// Each truck that lost some remembers the cut (<see cref="TruckExtent.KeptFromMs"/>), so that its runs from before it are never derived again from less.
    /// An analysis that runs meanwhile would still read what is being deleted: hold its lease.
    /// Works in small transactions, so that writers get their turn; a cancelled or failed call has deleted a part and can be repeated.
    /// </summary>
    /// <param name="ms">The first instant to keep, Unix ms.</param>
    /// <param name="cancellationToken">Stops between two transactions.</param>
    /// <returns>How many samples were deleted.</returns>
    /// <exception cref="StoreUnavailableException">The store cannot be changed now.</exception>
    public async Task<long> DeleteBeforeAsync(long ms, CancellationToken cancellationToken)
    {
        long total = 0;
        foreach (var extent in await TrucksAsync(cancellationToken))
        {
            if (extent.Samples == 0 || extent.FirstMs >= ms)
            {
                continue;
            }

            int deleted;
            do
            {
                deleted = await database.WriteAsync(() => database.Change(t => DeleteBefore(t, extent.Truck, ms)), cancellationToken);
                total += deleted;
            }
            while (deleted == DeletedRows);
        }

        return total;
    }

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

    private static int DeleteBefore(SqliteTransaction transaction, string truck, long ms)
    {
        var deleted = transaction.Execute(
            """
            DELETE FROM sample WHERE truck_id=(SELECT id FROM truck WHERE truck=$truck) AND at_ms IN (
                SELECT at_ms FROM sample WHERE truck_id=(SELECT id FROM truck WHERE truck=$truck) AND at_ms<$ms ORDER BY at_ms LIMIT $limit)
            """,
            ("$truck", truck),
            ("$ms", ms),
            ("$limit", DeletedRows));
        transaction.Execute(
            """
            UPDATE truck SET
                samples = samples - $deleted,
                first_ms = coalesce((SELECT min(at_ms) FROM sample WHERE truck_id=truck.id), last_ms),
                kept_from_ms = max(coalesce(kept_from_ms, 0), min($ms, last_ms + 1))
            WHERE truck=$truck
            """,
            ("$truck", truck),
            ("$ms", ms),
            ("$deleted", deleted));
        return deleted;
    }

    private WriteTally Write(SampleBatch batch, CancellationToken cancellationToken)
    {
        ObjectDisposedException.ThrowIf(isDisposed, this);
        try
        {
            writer ??= new SampleWriter(database.Connect());
            return writer.Write(batch, cancellationToken);
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

    private void ReadPage(string truck, long fromMs, long toMs, List<Sample> page) => database.Read(connection =>
    {
        using var command = connection.Command(SampleSql.Page, ("$truck", truck), ("$from", fromMs), ("$to", toMs), ("$limit", PageRows));
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            SignalValues values = default;
            for (var i = 0; i < SignalInfo.Count; i++)
            {
                values[i] = reader.IsDBNull(i + 1) ? double.NaN : reader.GetDouble(i + 1);
            }

            page.Add(new Sample(truck, reader.GetInt64(0), values));
        }

        return page.Count;
    });
}
