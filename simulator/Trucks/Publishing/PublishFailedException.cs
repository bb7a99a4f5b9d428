namespace Vanehour.Simulator;

/// <summary>A simulated fleet could not be published. The message is one plain sentence for people.</summary>
public sealed class PublishFailedException : Exception
{
    public PublishFailedException()
    {
    }

    public PublishFailedException(string message)
        : base(message)
    {
    }

    public PublishFailedException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }

    public PublishFailedException(PublishFailure failure, string message, Exception? innerException = null)
        : base(message, innerException) => Failure = failure;

    /// <summary>Why.</summary>
    public PublishFailure Failure { get; }
}
