using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Influx;

/// <summary>A bucket of its own, with a samples.db beside it.</summary>
internal sealed class InfluxStoreUnderTest : StoreUnderTest
{
    private readonly DataFolder folder = new();
    private readonly List<IDisposable> open = [];
    private readonly Func<Task> remove;

    /// <param name="options">The bucket, which must be empty.</param>
    /// <param name="remove">Removes it at the end.</param>
    public InfluxStoreUnderTest(InfluxOptions options, Func<Task> remove)
    {
        Options = options;
        this.remove = remove;
        Store = OpenAgain();
    }

    public override ITelemetryStore Store { get; }

    /// <inheritdoc/>
    public override bool ShowsWholeBatches => false;

    private InfluxOptions Options { get; }

    public override ITelemetryStore OpenAgain()
    {
        var database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);
        var connection = new InfluxConnection(Options);
        var store = new InfluxTelemetryStore(connection, database, new SqliteRejectLog(database), TimeProvider.System);
        open.AddRange([store, connection]);
        return store;
    }

    public override async ValueTask DisposeAsync()
    {
        open.ForEach(o => o.Dispose());
        folder.Dispose();
        await remove();
    }
}
