using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>An empty store, with a way to open a second one on the same data.</summary>
public abstract class StoreUnderTest : IAsyncDisposable
{
    public abstract ITelemetryStore Store { get; }

    /// <summary>
    /// Whether a reader sees a batch as a whole or not at all while it is written. A server over the network may show parts; nothing relies on it there,
    /// because a truck is derived only up to its oldest sample that is still on its way.
    /// </summary>
    public virtual bool ShowsWholeBatches => true;

    /// <summary>Another store on the same data, as another process would open it; closed with this.</summary>
    public abstract ITelemetryStore OpenAgain();

    public abstract ValueTask DisposeAsync();
}
