namespace Vanehour.Host.Moving;

/// <summary>Opens one kind of store as an end of a copy.</summary>
internal interface IStoreEndFactory
{
    /// <summary>The kind's name on the command line.</summary>
    string Kind { get; }

    /// <summary>Opens it.</summary>
    /// <exception cref="CommandFailedException">It cannot be used; the sentence says what to fix.</exception>
    Task<StoreEnd> OpenAsync(StoreEndRequest request, CancellationToken cancellationToken);
}
