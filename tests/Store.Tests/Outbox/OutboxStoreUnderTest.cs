using Vanehour.Store.Influx;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>An outbox before a bucket of its own.</summary>
internal sealed class OutboxStoreUnderTest : StoreUnderTest
{
    private readonly DataFolder folder = new();
    private readonly List<OutboxRig> rigs = [];
    private readonly SemaphoreSlim turn = new(1, 1);
    private readonly InfluxOptions options;
    private readonly Func<Task> remove;

    public OutboxStoreUnderTest(InfluxOptions options, Func<Task> remove)
    {
        this.options = options;
        this.remove = remove;
        Store = OpenAgain();
    }

    public override ITelemetryStore Store { get; }

    /// <inheritdoc/>
    public override bool ShowsWholeBatches => false;

    public override ITelemetryStore OpenAgain()
    {
        rigs.Add(new OutboxRig(folder.Path, options));
        return new DrainedOutbox(rigs[^1], turn);
    }

    public override async ValueTask DisposeAsync()
    {
        foreach (var rig in rigs)
        {
            await rig.DisposeAsync();
        }

        turn.Dispose();
        folder.Dispose();
        await remove();
    }
}
