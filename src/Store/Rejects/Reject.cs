namespace Vanehour.Store.Rejects;

/// <summary>A message or record that was refused.</summary>
/// <param name="Topic">Where it came from.</param>
/// <param name="ArrivedMs">When it arrived, Unix ms.</param>
/// <param name="Reason">Why it was refused.</param>
/// <param name="Detail">Which record and field, in words.</param>
/// <param name="Payload">The first 4 KiB of the payload, as received.</param>
public sealed record Reject(string Topic, long ArrivedMs, RejectReason Reason, string Detail, ReadOnlyMemory<byte> Payload)
{
    /// <summary>How much of a payload is kept, bytes.</summary>
    public const int KeptBytes = 4096;
}
