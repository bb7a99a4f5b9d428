using Vanehour.Fleet;

namespace Vanehour.Store.Telemetry;

/// <summary>A store that knows what a write changed. Not every store can tell: InfluxDB overwrites without saying.</summary>
public interface ICountingTelemetryStore : ITelemetryStore
{
    /// <summary>Stores a batch as <see cref="ITelemetryStore.WriteAsync"/> does, and says what that changed.</summary>
    /// <exception cref="StoreUnavailableException">The store cannot take the batch now; nothing was stored.</exception>
    Task<WriteTally> WriteCountedAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken);
}
