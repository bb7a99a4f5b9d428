using Vanehour.Fleet;

namespace Vanehour.Store.Telemetry;

/// <summary>Keeps samples. Storing is idempotent: the key is truck and instant, and signals merge, the last to arrive winning.</summary>
public interface ITelemetryStore
{
    /// <summary>Stores a batch; when the task completes the batch is durable. All or nothing.</summary>
    /// <param name="samples">Any number, any order, several for one key allowed.</param>
    /// <param name="cancellationToken">Gives up before the commit, never half-way.</param>
    /// <exception cref="StoreUnavailableException">The store cannot take the batch now; nothing was stored.</exception>
    Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken);

    /// <summary>The samples of a truck from <paramref name="fromMs"/> up to but not at <paramref name="toMs"/> (Unix ms), in order of time.</summary>
    IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, CancellationToken cancellationToken);

    /// <summary>What is stored of each truck that was ever heard, in order of the trucks' ids (ordinal).</summary>
    Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken);

    /// <summary>The trucks touched since they were last settled, each with the earliest instant touched.</summary>
    Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken);

    /// <summary>Forgets a touch that has been dealt with; one that has been renewed since it was read stays.</summary>
    Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken);
}
