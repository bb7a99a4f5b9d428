namespace Vanehour.Bench.Faults.Feed;

/// <summary>Knows a payload again by 64 bits (FNV-1a). Payloads of the suite differ in their first hundred bytes.</summary>
internal static class PayloadHash
{
    public static ulong Of(ReadOnlySpan<byte> payload)
    {
        var hash = 14695981039346656037UL;
        foreach (var b in payload)
        {
            hash = unchecked((hash ^ b) * 1099511628211UL);
        }

        return hash;
    }
}
