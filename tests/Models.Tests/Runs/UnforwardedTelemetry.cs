using Vanehour.Fleet;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Tests.Runs;

/// <summary>A store of which some samples are said to be still on their way.</summary>
internal sealed class UnforwardedTelemetry(ITelemetryStore inner) : ITelemetryStore, IUnforwarded
{
    public Dictionary<string, long> Oldest { get; } = new(StringComparer.Ordinal);

    public Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken) => inner.WriteAsync(samples, cancellationToken);

    public IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, CancellationToken cancellationToken) =>
        inner.ReadAsync(truck, fromMs, toMs, cancellationToken);

    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => inner.TrucksAsync(cancellationToken);

    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => inner.TouchedAsync(cancellationToken);

    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken) => inner.SettleAsync(touched, cancellationToken);

    public Task<IReadOnlyDictionary<string, long>> OldestByTruckAsync(CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyDictionary<string, long>>(Oldest);

    public Task<ForwardingBacklog> BacklogAsync(CancellationToken cancellationToken) => Task.FromResult(ForwardingBacklog.None);
}
