namespace Vanehour.Store.Influx;

/// <summary>An InfluxDB did not do what it was asked; the message is one plain sentence that says what to do.</summary>
public sealed class InfluxException : Exception
{
    public InfluxException()
    {
    }

    public InfluxException(string message)
        : base(message)
    {
    }

    public InfluxException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    internal InfluxException(InfluxFailure failure, string message, Exception? innerException = null)
        : base(message, innerException) => Failure = failure;

    /// <summary>What the refusal asks for.</summary>
    public InfluxFailure Failure { get; }

    /// <summary>HTTP's status code; 0 where there was no answer.</summary>
    public int Status { get; init; }

    /// <summary>How long the server asks to be left alone, or null.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>What the server itself said; may be empty.</summary>
    public string ServerMessage { get; init; } = string.Empty;

    /// <summary>The same for those who know stores only.</summary>
    public StoreUnavailableException AsUnavailable() => new(Message, this);
}
