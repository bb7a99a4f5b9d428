namespace Vanehour.Host.Moving;

/// <summary>A truck after its copy, as both ends were read back.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="FromSamples">Samples at the source, of the period copied.</param>
/// <param name="ToSamples">Samples at the target, of the same period.</param>
/// <param name="FromChecksum">SHA-256 over the source's instants and values, hexadecimal.</param>
/// <param name="ToChecksum">The same over the target's.</param>
public sealed record CopiedTruck(string Truck, long FromSamples, long ToSamples, string FromChecksum, string ToChecksum)
{
    /// <summary>Whether both ends hold the same samples, to the last bit.</summary>
    public bool Same => FromSamples == ToSamples && FromChecksum == ToChecksum;
}
