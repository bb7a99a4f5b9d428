using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Influx;

/// <summary>The server that the environment names keeps to the contract.</summary>
public sealed class NamedServerConformance : TelemetryStoreConformance, IDisposable
{
    private readonly DataFolder folder = new();

    public NamedServerConformance() => NamedServer.Options(folder);

    public void Dispose() => folder.Dispose();

    protected override Task<StoreUnderTest> CreateAsync()
    {
        var options = NamedServer.Options(folder);
        return Task.FromResult<StoreUnderTest>(new InfluxStoreUnderTest(options, () => NamedServer.RemoveAsync(options)));
    }
}
