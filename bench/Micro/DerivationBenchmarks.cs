using BenchmarkDotNet.Attributes;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;
using Vanehour.Simulator;

namespace Vanehour.Bench;

/// <summary>Deriving runs (pump-down fits included) from three months of one truck's samples, beside only walking over the samples.</summary>
public class DerivationBenchmarks
{
    private Sample[] samples = [];
    private RunContext? context;

    [GlobalSetup]
    public void Setup()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 1, Months = 3 });
        samples = [.. fleet.Samples(fleet.Trucks[0].Id)];
        context = new RunContext(fleet.Trucks[0], fleet.ServiceRecords, fleet.PumpModels.ToDictionary(m => m.Model, StringComparer.Ordinal), new RunSettings());
    }

    [Benchmark(Baseline = true)]
    public double WalkOnly()
    {
        var sum = 0.0;
        foreach (ref readonly var sample in samples.AsSpan())
        {
            foreach (var value in sample.Values)
            {
                sum += double.IsNaN(value) ? 0 : value;
            }
        }

        return sum;
    }

    [Benchmark]
    public int DeriveRuns()
    {
        var runs = new List<Run>();
        var deriver = new RunDeriver(context!, []);
        foreach (ref readonly var sample in samples.AsSpan())
        {
            deriver.Push(sample, runs);
        }

        deriver.Finish(runs);
        return runs.Count;
    }
}
