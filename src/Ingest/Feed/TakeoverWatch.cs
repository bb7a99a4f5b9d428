namespace Vanehour.Ingest.Feed;

/// <summary>
/// Tells when another client of the same id has our session. MQTT 5 brokers should say so, and then once is enough; some just close the
/// connection (mosquitto 2.0.11 does), and then two workers would throw each other out for ever. A broker that is restarted again and again
/// closes connections without a reason too; a <see cref="Bystander"/> tells the two apart.
/// </summary>
internal sealed class TakeoverWatch(IngestOptions options)
{
    /// <summary>So many short connections in a row, each accepted and closed without a reason, with no failed attempt between and no sign that the broker itself was away.</summary>
    public const int Closures = 5;

    private int closures;

    /// <summary>Whether the last connection was short and closed without a reason.</summary>
    public bool IsSuspected => closures > 0;

    /// <summary>A connection was lost.</summary>
    /// <param name="lost">How.</param>
    /// <param name="wasShort">Whether it lasted only seconds.</param>
    /// <param name="brokerStayed">Whether a bystander kept its connection meanwhile; null where there was none.</param>
    /// <exception cref="BrokerException">The session is, or must be taken to be, another client's.</exception>
    public void ThrowIfTaken(BrokerException lost, bool wasShort, bool? brokerStayed)
    {
        if (lost.Failure == BrokerFailure.SessionTakenOver)
        {
            throw lost;
        }

        closures = wasShort && brokerStayed != false && lost.Failure == BrokerFailure.ConnectionClosed ? closures + 1 : 0;
        if (closures >= Closures)
        {
            throw new BrokerSentences(options).ProbablyTakenOver(closures);
        }
    }

    /// <summary>An attempt failed.</summary>
    public void Reset() => closures = 0;
}
