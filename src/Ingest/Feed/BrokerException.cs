namespace Vanehour.Ingest.Feed;

/// <summary>The broker cannot be used. The message is one plain sentence for a person: what is the matter and what to do.</summary>
public sealed class BrokerException : Exception
{
    public BrokerException()
    {
    }

    public BrokerException(string message)
        : base(message)
    {
    }

    public BrokerException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }

    public BrokerException(BrokerFailure failure, string message, Exception? innerException = null)
        : base(message, innerException) => Failure = failure;

    /// <summary>What kind of failure it is.</summary>
    public BrokerFailure Failure { get; }
}
