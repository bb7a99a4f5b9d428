using System.Runtime.CompilerServices;
using Vanehour.Fleet;
using Vanehour.Store;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Tests.Moving;

/// <summary>A store that counts what is read of it and can go away before a given write.</summary>
internal sealed class FlakyStore(ITelemetryStore inner) : ITelemetryStore
{
    /// <summary>How many writes still succeed.</summary>
    public int WritesLeft { get; set; } = int.MaxValue;

    public long SamplesRead { get; private set; }

    public Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken) =>
        WritesLeft-- > 0 ? inner.WriteAsync(samples, cancellationToken) : throw new StoreUnavailableException("Gone away.");

    public async IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (var sample in inner.ReadAsync(truck, fromMs, toMs, cancellationToken))
        {
            SamplesRead++;
            yield return sample;
        }
    }

    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => inner.TrucksAsync(cancellationToken);

    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => inner.TouchedAsync(cancellationToken);

    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken) => inner.SettleAsync(touched, cancellationToken);
}
