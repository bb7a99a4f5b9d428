using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>The runs of a simulated fleet's trucks, derived without broker and store: what a store does to samples other tests see to.</summary>
internal static class DerivedFleet
{
    public static ImmutableArray<Run> Runs(SimulatedFleet fleet, Truck truck)
    {
        var models = fleet.PumpModels.ToDictionary(m => m.Model, StringComparer.Ordinal);
        var deriver = new RunDeriver(new RunContext(truck, fleet.ServiceRecords, models, new RunSettings()), []);
        var runs = new List<Run>();
        foreach (var sample in InOrder(fleet.Samples(truck.Id)))
        {
            deriver.Push(sample, runs);
        }

        deriver.Finish(runs);
        return [.. runs];
    }

    /// <summary>As a store gives them: in order of time, one of each instant. Only a clock that was set back makes a difference.</summary>
    private static IEnumerable<Sample> InOrder(IEnumerable<Sample> samples)
    {
        var all = new Dictionary<long, Sample>();
        foreach (var sample in samples)
        {
            var merged = all.TryGetValue(sample.UnixMs, out var before) ? before.Values : SignalValues.Empty;
            merged.Merge(sample.Values);
            all[sample.UnixMs] = sample with { Values = merged };
        }

        return all.Values.OrderBy(s => s.UnixMs);
    }
}
