namespace Vanehour.Store;

/// <summary>The store cannot be used now; what was asked did not happen and may be tried again.</summary>
public sealed class StoreUnavailableException : Exception
{
    public StoreUnavailableException()
    {
    }

    public StoreUnavailableException(string message)
        : base(message)
    {
    }

    public StoreUnavailableException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
