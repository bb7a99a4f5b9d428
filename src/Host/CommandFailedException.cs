namespace Vanehour.Host;

/// <summary>The job could not be done; the message is one plain sentence that says what and what to do.</summary>
public sealed class CommandFailedException : Exception
{
    public CommandFailedException()
    {
    }

    public CommandFailedException(string message)
        : base(message)
    {
    }

    public CommandFailedException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
