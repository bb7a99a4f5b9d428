namespace Vanehour.Simulator.Publishing;

/// <summary>Knows up to which message everything is acknowledged, when acknowledgements of several connections come in any order. Safe for several threads.</summary>
/// <param name="first">The number of the first message to come; those before it are acknowledged.</param>
internal sealed class AcknowledgedPrefix(long first)
{
    private readonly Lock gate = new();
    private readonly HashSet<long> beyond = [];
    private long count = first;

    /// <summary>How many messages from the very first are acknowledged without a gap.</summary>
    public long Count
    {
        get
        {
            lock (gate)
            {
                return count;
            }
        }
    }

    /// <summary>A message was acknowledged.</summary>
    /// <param name="number">0 for the fleet's first.</param>
    public void Add(long number)
    {
        lock (gate)
        {
            beyond.Add(number);
            while (beyond.Remove(count))
            {
                count++;
            }
        }
    }
}
