using System.Runtime.CompilerServices;
using System.Text;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Rejects;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Influx;

/// <summary>
/// Samples in an InfluxDB: one measurement, the tag truck, a field for each signal. Which trucks there are and what of them changed is kept in samples.db, where a
/// batch is accounted for in one transaction: it is this installation's own bookkeeping, and the server could not keep it without races.
/// </summary>
/// <remarks>
/// A write waits for the server. The feed is taken in through <see cref="Outbox.OutboxTelemetryStore"/>, which does not. Where an unanswered write is
/// repeated by the caller, the count of samples of its trucks may be short by what had got through; their first and last instants and touches are right.
/// </remarks>
public sealed class InfluxTelemetryStore : ITelemetryStore, IDisposable
{
    private readonly InfluxConnection connection;
    private readonly SqliteDatabase database;
    private readonly IRejectLog rejects;
    private readonly TimeProvider time;
    private readonly InfluxReader reader;
    private readonly ChangeFinder changeFinder;
    private readonly InfluxWriter writer;
    private readonly SemaphoreSlim oneWriter = new(1, 1);

    /// <summary>A store on an InfluxDB.</summary>
    /// <param name="connection">The server; the caller disposes it.</param>
    /// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
    /// <param name="rejects">Where samples go that the server refuses.</param>
    /// <param name="time">The clock.</param>
    public InfluxTelemetryStore(InfluxConnection connection, SqliteDatabase database, IRejectLog rejects, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(connection);
        ArgumentNullException.ThrowIfNull(database);
        ArgumentNullException.ThrowIfNull(rejects);
        ArgumentNullException.ThrowIfNull(time);
        (this.connection, this.database, this.rejects, this.time) = (connection, database, rejects, time);
        reader = new InfluxReader(connection);
        changeFinder = new ChangeFinder(reader);
        writer = new InfluxWriter(connection);
    }

    /// <summary>Stores a batch; when the task completes the server has it. A sample that the server refuses goes to the rejects.</summary>
    /// <param name="samples">Any number, any order, several for one key allowed.</param>
    /// <param name="cancellationToken">Gives up before the first request to write.</param>
    /// <exception cref="ArgumentException">A sample without a truck, or with an infinite value.</exception>
    /// <exception cref="StoreUnavailableException">
    /// The server did not take the batch, or not with certainty; of a batch of several requests a part may be stored. The same batch can be written again.
    /// </exception>
    public async Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(samples);
        cancellationToken.ThrowIfCancellationRequested();
        var points = RemotePoints.Of(new SampleBatch(samples));
        cancellationToken.ThrowIfCancellationRequested();
        if (points.Count == 0)
        {
            return;
        }

        await oneWriter.WaitAsync(cancellationToken);
        try
        {
            var changes = await FindChangesAsync(points, cancellationToken);
            await database.WriteAsync(() => database.Change(t => Done(() => RemotePoints.Touch(t, points, changes))), cancellationToken);

            // From here on to the end: what has been touched is written or said to have failed.
            var refused = await writer.WriteAsync(points, CancellationToken.None);
            await RejectAsync(points, refused);
            await database.WriteAsync(() => database.Change(t => Done(() => RemotePoints.Count(t, points, changes, refused))), CancellationToken.None);
        }
        catch (InfluxException e)
        {
            throw e.AsUnavailable();
        }
        finally
        {
            oneWriter.Release();
        }
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    public async IAsyncEnumerable<Sample> ReadAsync(
        string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(truck);
        cancellationToken.ThrowIfCancellationRequested();
        await using var samples = reader.ReadAsync(truck, fromMs, toMs, cancellationToken).GetAsyncEnumerator(cancellationToken);
        while (await NextAsync(samples))
        {
            yield return samples.Current;
        }
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">samples.db cannot be read now.</exception>
    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => TruckTable.Remote.TrucksAsync(database, cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">samples.db cannot be read now.</exception>
    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => TruckTable.Remote.TouchedAsync(database, cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">samples.db cannot be changed now; the touch stays.</exception>
    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(touched);
        return TruckTable.Remote.SettleAsync(database, touched, cancellationToken);
    }

    /// <inheritdoc/>
    public void Dispose() => oneWriter.Dispose();

    /// <summary>What each point will change.</summary>
    /// <exception cref="InfluxException">What is stored cannot be read now.</exception>
    internal async Task<SampleChange[]> FindChangesAsync(IReadOnlyList<Sample> points, CancellationToken cancellationToken)
    {
        var lastMs = (await TrucksAsync(cancellationToken)).ToDictionary(e => e.Truck, e => e.LastMs, StringComparer.Ordinal);
        return await changeFinder.FindAsync(points, lastMs, cancellationToken);
    }

    /// <summary>Writes points, once.</summary>
    /// <exception cref="InfluxException">They could not all be written.</exception>
    internal Task<IReadOnlyList<RefusedPoint>> SendAsync(IReadOnlyList<Sample> points, CancellationToken cancellationToken) =>
        writer.WriteAsync(points, cancellationToken);

    /// <summary>Keeps what the server refused.</summary>
    internal async Task RejectAsync(IReadOnlyList<Sample> points, IReadOnlyList<RefusedPoint> refused)
    {
        if (refused.Count > 0)
        {
            var now = time.GetUtcNow().ToUnixTimeMilliseconds();
            await rejects.AddAsync(
                [.. refused.Select(r => new Reject(
                    $"{connection.Options.Bucket}/{points[r.Index].Truck}", now, RejectReason.StoreRefused, r.Reason, Encoding.UTF8.GetBytes(r.Line)))],
                CancellationToken.None);
        }
    }

    private static bool Done(Action work)
    {
        work();
        return true;
    }

    private static async ValueTask<bool> NextAsync(IAsyncEnumerator<Sample> samples)
    {
        try
        {
            return await samples.MoveNextAsync();
        }
        catch (InfluxException e)
        {
            throw e.AsUnavailable();
        }
    }
}
