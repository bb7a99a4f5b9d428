namespace Vanehour.Ingest.Feed;

/// <summary>Why the broker cannot be used.</summary>
public enum BrokerFailure
{
    /// <summary>Nothing answers at its host and port, or not in time.</summary>
    Unreachable,

    /// <summary>Its certificate is not trusted, or the two sides find no common TLS.</summary>
    TlsFailed,

    /// <summary>It does not accept the user, the password or the client certificate.</summary>
    BadCredentials,

    /// <summary>It refuses the connection for another reason, which the message gives.</summary>
    Refused,

    /// <summary>It does not let us subscribe.</summary>
    SubscriptionRefused,

    /// <summary>A connection that worked was lost.</summary>
    ConnectionLost,

    /// <summary>A connection that worked was closed by the broker without a reason given.</summary>
    ConnectionClosed,

    /// <summary>Another client came with the same client id, and the broker gave it our session.</summary>
    SessionTakenOver,
}
