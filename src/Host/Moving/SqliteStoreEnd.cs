using Vanehour.Host.Composition;
using Vanehour.Host.Settings;

namespace Vanehour.Host.Moving;

/// <summary>The samples.db of a data folder.</summary>
internal sealed class SqliteStoreEnd : IStoreEndFactory
{
    /// <inheritdoc/>
    public string Kind => "sqlite";

    /// <inheritdoc/>
    public Task<StoreEnd> OpenAsync(StoreEndRequest request, CancellationToken cancellationToken)
    {
        // Whatever the folder's settings say: sqlite is its own samples.db.
        var data = request.IsTarget ? DataFolder.Open(request.Folder, StoreKind.Sqlite) : DataFolder.OpenExisting(request.Folder, StoreKind.Sqlite);
        return Task.FromResult(new StoreEnd($"{Kind}:{data.Folder}", data.Samples, data.Folder, data));
    }
}
