using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>The outbox and its forwarder keep to the contract: Debian's influxd 1.6 behind the shim.</summary>
public sealed class OutboxInfluxdConformance(InfluxFixture influx) : TelemetryStoreConformance, IClassFixture<InfluxFixture>
{
    protected override async Task<StoreUnderTest> CreateAsync()
    {
        var bucket = await influx.Daemon.CreateDatabaseAsync();
        var options = OutboxRig.Options(influx.Shim.Url);
        options.Bucket = bucket;
        return new OutboxStoreUnderTest(options, () => influx.Daemon.DropDatabaseAsync(bucket));
    }
}
