using Microsoft.Data.Sqlite;

namespace Vanehour.Store.Sqlite;

/// <summary>Adds batches to the outbox on a connection of its own, one transaction each. Not for several threads at once; after an SQLite error it must be thrown away.</summary>
internal sealed class OutboxWriter : IDisposable
{
    private const int RowsBetweenCancellationChecks = 1024;

    private readonly SqliteConnection connection;
    private readonly OutboxStatements statements;

    // Ids never change and trucks are never removed, so ids that were once committed can be remembered.
    private readonly Dictionary<string, long> ids = new(StringComparer.Ordinal);

    /// <summary>Takes over <paramref name="connection"/>.</summary>
    public OutboxWriter(SqliteConnection connection)
    {
        this.connection = connection;
        try
        {
            statements = new OutboxStatements(connection);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Adds the batch, all or nothing.</summary>
    public void Write(SampleBatch batch, long arrivedMs, CancellationToken cancellationToken)
    {
        var found = new List<(string Truck, long Id)>();
        var row = 0;
        using var transaction = connection.BeginTransaction(deferred: false);
        foreach (var truck in batch.Trucks)
        {
            if (!ids.TryGetValue(truck, out var id))
            {
                id = TruckTable.Remote.FindOrAdd(transaction, truck);
                found.Add((truck, id));
            }

            foreach (var (atMs, values) in batch.Of(truck))
            {
                if (row++ % RowsBetweenCancellationChecks == 0)
                {
                    cancellationToken.ThrowIfCancellationRequested();
                }

                statements.Add(id, atMs, arrivedMs, values);
            }
        }

        cancellationToken.ThrowIfCancellationRequested();
        transaction.Commit();
        foreach (var (truck, id) in found)
        {
            ids[truck] = id;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        statements.Dispose();
        connection.Dispose();
    }
}
