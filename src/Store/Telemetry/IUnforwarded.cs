namespace Vanehour.Store.Telemetry;

/// <summary>A telemetry store that has taken samples which it does not give back yet, because they are on their way to a server.</summary>
public interface IUnforwarded
{
    /// <summary>The earliest instant (Unix ms) on its way of each truck that has any: up to but not at it the truck's samples are complete.</summary>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    Task<IReadOnlyDictionary<string, long>> OldestByTruckAsync(CancellationToken cancellationToken);

    /// <summary>How much is on its way, and since when.</summary>
    /// <exception cref="StoreUnavailableException">The store cannot be read now.</exception>
    Task<ForwardingBacklog> BacklogAsync(CancellationToken cancellationToken);
}
