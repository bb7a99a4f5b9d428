using Vanehour.Store.Tests.Influx;
using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>The outbox keeps to the contract with the stub of an InfluxDB 2.</summary>
public sealed class OutboxStubConformance : TelemetryStoreConformance
{
    protected override async Task<StoreUnderTest> CreateAsync()
    {
        var stub = await InfluxStub.StartAsync();
        return new OutboxStoreUnderTest(OutboxRig.Options(stub.Url), async () => await stub.DisposeAsync());
    }
}
