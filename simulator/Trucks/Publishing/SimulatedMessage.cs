namespace Vanehour.Simulator;

/// <summary>One message as a truck's gateway would publish it.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Topic">fleet/{truck}/pump.</param>
/// <param name="Payload">A SenML JSON pack in UTF-8; its own array, free to keep.</param>
/// <param name="FirstUnixMs">The first instant in the pack, ms since 1970-01-01 UTC.</param>
/// <param name="LastUnixMs">The last instant in the pack, ms since 1970-01-01 UTC.</param>
/// <param name="Samples">How many instants it holds, 1 or more.</param>
/// <param name="SentUnixMs">When it goes out, ms since 1970-01-01 UTC by a right clock; the last instant, unless the gateway had no coverage or a wrong clock, or sends it again.</param>
public sealed record SimulatedMessage(string Truck, string Topic, ReadOnlyMemory<byte> Payload, long FirstUnixMs, long LastUnixMs, int Samples, long SentUnixMs)
{
    /// <summary>The last instant.</summary>
    public DateTimeOffset LastAt => DateTimeOffset.FromUnixTimeMilliseconds(LastUnixMs);

    /// <summary>When it goes out.</summary>
    public DateTimeOffset SentAt => DateTimeOffset.FromUnixTimeMilliseconds(SentUnixMs);
}
