using Vanehour.Store.Tests.Telemetry;

namespace Vanehour.Store.Tests.Sqlite;

/// <summary>SQLite keeps to the contract.</summary>
public sealed class SqliteTelemetryStoreConformance : TelemetryStoreConformance
{
    protected override Task<StoreUnderTest> CreateAsync() => Task.FromResult<StoreUnderTest>(new SqliteStoreUnderTest());
}
