using Vanehour.Store.Influx;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Influx;

/// <summary>An InfluxDB keeps to the contract: Debian's influxd 1.6 behind the shim.</summary>
public sealed class InfluxTelemetryStoreConformance(InfluxFixture influx) : TelemetryStoreConformance, IClassFixture<InfluxFixture>
{
    protected override async Task<StoreUnderTest> CreateAsync()
    {
        var bucket = await influx.Daemon.CreateDatabaseAsync();
        return new InfluxStoreUnderTest(new InfluxOptions { Url = influx.Shim.Url, Bucket = bucket }, () => influx.Daemon.DropDatabaseAsync(bucket));
    }
}
