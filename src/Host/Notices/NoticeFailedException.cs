namespace Vanehour.Host.Notices;

/// <summary>A notice could not be told now; the message says why.</summary>
public sealed class NoticeFailedException : Exception
{
    public NoticeFailedException()
    {
    }

    public NoticeFailedException(string message)
        : base(message)
    {
    }

    public NoticeFailedException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
