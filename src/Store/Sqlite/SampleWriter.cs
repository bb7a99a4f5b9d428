using Microsoft.Data.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Sqlite;

/// <summary>Writes batches on a connection of its own, one transaction each. Not for several threads at once; after an SQLite error it must be thrown away.</summary>
internal sealed class SampleWriter : IDisposable
{
    private const int RowsBetweenCancellationChecks = 1024;

    private readonly SqliteConnection connection;
    private readonly SampleStatements statements;

    // Ids never change and trucks are never removed, so ids that were once committed can be remembered.
    private readonly Dictionary<string, long> ids = new(StringComparer.Ordinal);

    /// <summary>Takes over <paramref name="connection"/>.</summary>
    public SampleWriter(SqliteConnection connection)
    {
        this.connection = connection;
        try
        {
            statements = new SampleStatements(connection);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Stores the batch, all or nothing, and says what changed.</summary>
    public WriteTally Write(SampleBatch batch, CancellationToken cancellationToken)
    {
        var found = new List<(string Truck, long Id)>();
        var tally = default(WriteTally);
        using var transaction = connection.BeginTransaction(deferred: false);
        foreach (var truck in batch.Trucks)
        {
            if (!ids.TryGetValue(truck, out var id))
            {
                id = TruckTable.Local.FindOrAdd(transaction, truck);
                found.Add((truck, id));
            }

            var (added, changed) = Write(transaction, id, batch.Of(truck), cancellationToken);
            tally = new WriteTally(tally.Added + added, tally.Changed + changed);
        }

        cancellationToken.ThrowIfCancellationRequested();
        transaction.Commit();
        foreach (var (truck, id) in found)
        {
            ids[truck] = id;
        }

        return tally;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        statements.Dispose();
        connection.Dispose();
    }

    private WriteTally Write(
        SqliteTransaction transaction, long id, IEnumerable<(long AtMs, Fleet.SignalValues Values)> samples, CancellationToken cancellationToken)
    {
        (long First, long Last)? span = null;
        long? touched = null;
        long added = 0;
        long changed = 0;
        var row = 0;
        foreach (var (atMs, values) in samples)
        {
            if (row++ % RowsBetweenCancellationChecks == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
            }

            var change = statements.Put(id, atMs, values);
            if (change == SampleChange.None)
            {
                continue;
            }

            // The samples come in order of time.
            touched ??= atMs;
            if (change == SampleChange.Added)
            {
                added++;
                span = (span?.First ?? atMs, atMs);
            }
            else
            {
                changed++;
            }
        }

        if (touched is not null)
        {
            TruckTable.Local.Update(transaction, id, added, span, touched);
        }

        return new WriteTally(added, changed);
    }
}
