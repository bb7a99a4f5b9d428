namespace Vanehour.Store.Influx;

/// <summary>What a refusal of the server asks for.</summary>
public enum InfluxFailure
{
    /// <summary>Wait and try again: refused connection, reset, time-out, 429, 5xx.</summary>
    Transient,

    /// <summary>A person must act: 401, 403, 404, and what no InfluxDB answers.</summary>
    NeedsPerson,

    /// <summary>The points are wrong: 400, 422.</summary>
    BadData,

    /// <summary>The request is too long: 413.</summary>
    TooLarge,
}
