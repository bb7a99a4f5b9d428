namespace Vanehour.Bench.Faults.Servers;

/// <summary>What is wrong between a worker and the InfluxDB.</summary>
internal enum ServerTrouble
{
    None,

    /// <summary>503, as a server under memory pressure says.</summary>
    Unavailable,

    /// <summary>429 with Retry-After: 1.</summary>
    TooMany,

    /// <summary>500.</summary>
    Internal,

    /// <summary>The connection is reset before the server sees the request.</summary>
    ResetBefore,

    /// <summary>The server stores the points, and the connection is reset before it can say so.</summary>
    ResetAfter,

    /// <summary>No answer until the worker gives up; the server may have stored the points.</summary>
    Stalled,

    /// <summary>Every answer takes a second longer.</summary>
    Slow,
}
