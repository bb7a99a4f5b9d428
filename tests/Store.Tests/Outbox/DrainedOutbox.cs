using Vanehour.Fleet;
using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>An outbox of which every batch is forwarded before the write returns, so that it can be read back: the same path, without the waiting.</summary>
internal sealed class DrainedOutbox(OutboxRig rig, SemaphoreSlim turn) : ITelemetryStore
{
    public async Task WriteAsync(IReadOnlyList<Sample> samples, CancellationToken cancellationToken)
    {
        await rig.Store.WriteAsync(samples, cancellationToken);
        await turn.WaitAsync(CancellationToken.None);
        try
        {
            await rig.Forwarder.DrainAsync(CancellationToken.None);
        }
        finally
        {
            turn.Release();
        }
    }

    public IAsyncEnumerable<Sample> ReadAsync(string truck, long fromMs, long toMs, CancellationToken cancellationToken) =>
        rig.Store.ReadAsync(truck, fromMs, toMs, cancellationToken);

    public Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) => rig.Store.TrucksAsync(cancellationToken);

    public Task<IReadOnlyList<TouchedTruck>> TouchedAsync(CancellationToken cancellationToken) => rig.Store.TouchedAsync(cancellationToken);

    public Task SettleAsync(TouchedTruck touched, CancellationToken cancellationToken) => rig.Store.SettleAsync(touched, cancellationToken);
}
