namespace Vanehour.Simulator.Gateways;

/// <summary>Takes note of what happened to one truck, where somebody wants to know.</summary>
/// <param name="truck">The truck's id.</param>
/// <param name="wanted">Takes the events; null for nobody.</param>
internal sealed class EventLog(string truck, Action<GatewayEvent>? wanted)
{
    /// <summary>Something that lasted, s since 1970-01-01 UTC.</summary>
    public void Add(GatewayEventKind kind, long fromS, long toS) => wanted?.Invoke(
        new GatewayEvent(truck, kind, DateTimeOffset.FromUnixTimeSeconds(fromS), DateTimeOffset.FromUnixTimeSeconds(toS)));
}
