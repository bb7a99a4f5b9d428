namespace Vanehour.Fleet.Sqlite;

/// <summary>A database file cannot be used; the message is one plain sentence that says what and what to do.</summary>
public sealed class DatabaseException : Exception
{
    public DatabaseException()
    {
    }

    public DatabaseException(string message)
        : base(message)
    {
    }

    public DatabaseException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
