using Vanehour.Fleet.Sqlite;
using Vanehour.Store;
using Vanehour.Store.Influx;
using Vanehour.Store.Outbox;
using Vanehour.Store.Rejects;

namespace Vanehour.Host.Composition;

/// <summary>An InfluxDB and the outbox before it.</summary>
public sealed class RemoteStore : IDisposable
{
    private readonly InfluxConnection connection;
    private readonly InfluxTelemetryStore store;
    private readonly ServerExtents extents;

    /// <param name="options">The settings.</param>
    /// <param name="samples">samples.db.</param>
    /// <param name="rejects">Where refused samples go.</param>
    /// <param name="worker">This data folder's name among the workers that forward to the same server.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="CommandFailedException">The settings cannot be used.</exception>
    public RemoteStore(InfluxOptions options, SqliteDatabase samples, IRejectLog rejects, string worker, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Problems() is { Count: > 0 } problems)
        {
            throw new CommandFailedException("The settings section Store cannot be used: " + string.Join(" ", problems));
        }

        connection = new InfluxConnection(options);
        store = new InfluxTelemetryStore(connection, samples, rejects, time);
        Outbox = new OutboxTelemetryStore(samples, store, time);
        Notes = new WorkerNotes(connection, samples, worker, time);
        Forwarder = new OutboxForwarder(samples, Outbox, store, Notes, options, time);
        extents = new ServerExtents(connection, samples);
        Copies = new InfluxCopies(connection, samples);
    }

    /// <summary>The server itself, without the outbox: a write returns when the server has it.</summary>
    public InfluxTelemetryStore Server => store;

    /// <summary>The store as everything else sees it.</summary>
    public OutboxTelemetryStore Outbox { get; }

    /// <summary>Brings the outbox to the server.</summary>
    public OutboxForwarder Forwarder { get; }

    /// <summary>By which the workers that forward to one server tell each other what they forwarded.</summary>
    public WorkerNotes Notes { get; }

    /// <summary>Copies runs and findings for dashboards.</summary>
    public InfluxCopies Copies { get; }

    /// <summary>
    /// Looks whether the server can be used. On a folder from which nothing has ever been forwarded a problem ends the start, since somebody is just setting things up; later it
    /// must not: the outbox takes what arrives, and a server that is away when a worker is restarted is no reason to leave the feed waiting.
    /// </summary>
    /// <returns>The problem, where it is to be lived with; else null.</returns>
    /// <exception cref="InfluxException">The server cannot be used, and never could.</exception>
    public async Task<string?> CheckAsync(CancellationToken cancellationToken)
    {
        try
        {
            await new InfluxCheck(connection).RunAsync(cancellationToken);
            return null;
        }
        catch (InfluxException e)
        {
            if (!await HasWorkedAsync(cancellationToken))
            {
                throw;
            }

            return e.Message;
        }
    }

    /// <summary>Learns what others did to the server's samples: what other workers forwarded, what was there before this folder, what the server's retention cut.</summary>
    /// <exception cref="StoreUnavailableException">The server or samples.db cannot be read now.</exception>
    public async Task CatchUpAsync(CancellationToken cancellationToken)
    {
        try
        {
            await Notes.PullAsync(cancellationToken);
            await extents.ReconcileAsync(cancellationToken);
        }
        catch (InfluxException e)
        {
            throw e.AsUnavailable();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Outbox.Dispose();
        store.Dispose();
        connection.Dispose();
    }

    private async Task<bool> HasWorkedAsync(CancellationToken cancellationToken) =>
        (await Outbox.TrucksAsync(cancellationToken)).Count > 0 || (await Outbox.BacklogAsync(cancellationToken)).Samples > 0;
}
