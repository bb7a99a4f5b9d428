using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>The runs of a simulated truck, made straight from its samples without a broker or a store.</summary>
/// <param name="Runs">The runs, in order of start.</param>
/// <param name="Heard">The last sample of every six hours, in order: when the truck was heard.</param>
public sealed record SimulatedRuns(IReadOnlyList<Run> Runs, IReadOnlyList<Sample> Heard)
{
    /// <summary>Derives the runs of one truck.</summary>
    public static SimulatedRuns Of(SimulatedFleet fleet, Truck truck)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(truck);
        var models = fleet.PumpModels.ToDictionary(m => m.Model, StringComparer.Ordinal);
        var records = fleet.ServiceRecords.Where(r => string.Equals(r.Truck, truck.Id, StringComparison.Ordinal));
        var deriver = new RunDeriver(new RunContext(truck, records, models, new RunSettings()), []);
        var runs = new List<Run>();
        var heard = new List<Sample>();
        foreach (var sample in Samples(fleet, truck))
        {
            deriver.Push(sample, runs);
            HeardInstants.Keep(heard, sample, s => s.UnixMs);
        }

        deriver.Finish(runs);
        return new SimulatedRuns(runs, heard);
    }

    /// <summary>A truck's samples as a store gives them: in order of time, one of each instant. Only a clock that was set back makes a difference.</summary>
    public static IEnumerable<Sample> Samples(SimulatedFleet fleet, Truck truck)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(truck);
        return fleet.Options.Dirt > 0 ? InOrder(fleet.Samples(truck.Id)) : fleet.Samples(truck.Id);
    }

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

    /// <summary>A whole fleet held in memory; for small ones.</summary>
    public static ReplayFleet Fleet(SimulatedFleet fleet)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        var trucks = fleet.Trucks.AsParallel().Select(t => (t.Id, Runs: Of(fleet, t))).ToDictionary(t => t.Id, t => t.Runs, StringComparer.Ordinal);
        return new ReplayFleet(
            fleet.PumpModels,
            fleet.Trucks,
            fleet.ServiceRecords,
            truck => trucks[truck].Runs,
            trucks.ToDictionary(t => t.Key, t => (IReadOnlyList<DateTimeOffset>)[.. t.Value.Heard.Select(s => s.At)], StringComparer.Ordinal));
    }
}
