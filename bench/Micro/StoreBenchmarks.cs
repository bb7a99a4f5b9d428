using BenchmarkDotNet.Attributes;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Simulator;
using Vanehour.Store.Sqlite;

namespace Vanehour.Bench;

/// <summary>Storing a month of one truck in batches of 5 000: new, and a second time as a redelivery would bring it.</summary>
public class StoreBenchmarks : IDisposable
{
    private const int BatchSize = 5000;

    private readonly List<Sample[]> batches = [];
    private string folder = string.Empty;
    private SqliteTelemetryStore? store;

    [GlobalSetup]
    public void Setup()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 1, Months = 1 });
        batches.AddRange(fleet.Samples(fleet.Trucks[0].Id).Chunk(BatchSize));
    }

    [IterationSetup(Target = nameof(New))]
    public void Empty()
    {
        folder = Directory.CreateTempSubdirectory("vanehour-bench-").FullName;
        store = new SqliteTelemetryStore(SqliteDatabase.Open(folder, SamplesSchema.Current));
    }

    [IterationSetup(Target = nameof(Again))]
    public void Filled()
    {
        Empty();
        New().GetAwaiter().GetResult();
    }

    public void Dispose()
    {
        store?.Dispose();
        GC.SuppressFinalize(this);
    }

    [IterationCleanup]
    public void Clean()
    {
        store?.Dispose();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [Benchmark(Baseline = true)]
    public async Task New()
    {
        foreach (var batch in batches)
        {
            await store!.WriteAsync(batch, default);
        }
    }

    [Benchmark]
    public Task Again() => New();
}
