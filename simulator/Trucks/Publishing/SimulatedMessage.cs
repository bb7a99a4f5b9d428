namespace Vanehour.Simulator;

/// <summary>One message as a truck's gateway would publish it.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Topic">fleet/{truck}/pump.</param>
/// <param name="Payload">A SenML JSON pack in UTF-8; its own array, free to keep.</param>
/// <param name="FirstUnixMs">The first instant in the pack, ms since 1970-01-01 UTC.</param>
/// <param name="LastUnixMs">The last instant in the pack, ms since 1970-01-01 UTC.</param>
/// <param name="Samples">How many instants it holds, 1 or more.</param>
public sealed record SimulatedMessage(string Truck, string Topic, ReadOnlyMemory<byte> Payload, long FirstUnixMs, long LastUnixMs, int Samples)
{
    /// <summary>The last instant.</summary>
    public DateTimeOffset LastAt => DateTimeOffset.FromUnixTimeMilliseconds(LastUnixMs);
}
