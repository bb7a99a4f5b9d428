using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;

// dotnet run --project bench/Micro -c Release -- fleet-years
if (args is ["fleet-years"])
{
    Vanehour.Bench.FleetYears.Run(Console.Out);
    return;
}

// dotnet run --project bench/Micro -c Release -- --filter '*Decode*'
// In this process: the project that the tool would generate does not know this repository's build settings.
var config = DefaultConfig.Instance
    .AddJob(Job.ShortRun.WithWarmupCount(2).WithIterationCount(5).WithToolchain(InProcessEmitToolchain.Instance))
    .AddDiagnoser(MemoryDiagnoser.Default);
BenchmarkSwitcher.FromAssembly(typeof(Vanehour.Bench.DecodeBenchmarks).Assembly).Run(args, config);
