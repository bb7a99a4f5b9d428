namespace Vanehour.Store.Tests.Influx;

/// <summary>What goes wrong with one request to the stub.</summary>
/// <param name="Status">HTTP's status; 0: the connection is reset.</param>
/// <param name="Code">The code in the body, as InfluxDB 2 has it; null: a proxy's page of HTML.</param>
/// <param name="Message">The message in the body.</param>
public sealed record StubFault(int Status, string? Code = null, string Message = "")
{
    /// <summary>Seconds in Retry-After.</summary>
    public int? RetryAfter { get; init; }

    /// <summary>No answer at all while the client waits.</summary>
    public bool Stalls { get; init; }

    /// <summary>Whether the points are stored before it goes wrong.</summary>
    public bool AfterStoring { get; init; }

    public static StubFault Reset { get; } = new(0);

    public static StubFault Stall { get; } = new(0) { Stalls = true };

    public static StubFault Unauthorized { get; } = new(401, "unauthorized", "unauthorized access");

    public static StubFault Forbidden { get; } = new(403, "forbidden", "insufficient permissions for write");

    public static StubFault NoBucket { get; } = new(404, "not found", "bucket \"vanehour\" not found");

    public static StubFault TooMany { get; } = new(429, "too many requests", "org 4a is over its write limit");

    public static StubFault Internal { get; } = new(500, "internal error", "an internal error has occurred");

    public static StubFault Unavailable { get; } = new(503, "unavailable", "engine: cache-max-memory-size exceeded");

    /// <summary>A portal that answers everything with a page.</summary>
    public static StubFault LoginPage { get; } = new(200, null, "<html><body><h1>Please log in</h1></body></html>");

    public static StubFault BadGateway { get; } = new(502, null, "<html><body><h1>502 Bad Gateway</h1></body></html>");
}
