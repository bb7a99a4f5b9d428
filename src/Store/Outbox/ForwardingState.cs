namespace Vanehour.Store.Outbox;

/// <summary>What the forwarder is doing. The names appear unchanged in logs and JSON.</summary>
public enum ForwardingState
{
    /// <summary>Not started, or ended.</summary>
    Ended,

    /// <summary>Another process on this data folder forwards; this one stands by.</summary>
    StandingBy,

    /// <summary>Nothing waits to be forwarded.</summary>
    Idle,

    /// <summary>At work.</summary>
    Forwarding,

    /// <summary>The server cannot take samples now; tried again by itself.</summary>
    Waiting,

    /// <summary>Somebody must act (token, bucket, address). Tried now and then all the same.</summary>
    Stopped,
}
