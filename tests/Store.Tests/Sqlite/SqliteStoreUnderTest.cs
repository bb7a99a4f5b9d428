using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Sqlite;

/// <summary>A samples.db in a folder of its own.</summary>
internal sealed class SqliteStoreUnderTest : StoreUnderTest
{
    private readonly DataFolder folder = new();
    private readonly List<SqliteTelemetryStore> stores = [];

    public SqliteStoreUnderTest() => Store = OpenAgain();

    public override ITelemetryStore Store { get; }

    public override ITelemetryStore OpenAgain()
    {
        var store = new SqliteTelemetryStore(SqliteDatabase.Open(folder.Path, SamplesSchema.Current));
        stores.Add(store);
        return store;
    }

    public override ValueTask DisposeAsync()
    {
        stores.ForEach(s => s.Dispose());
        folder.Dispose();
        return ValueTask.CompletedTask;
    }
}
