using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Watching;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>What the watch of limits says about simulated samples, one at a time as they would come: how often it calls for a stop with each injected fault, and without.</summary>
internal static class LimitStudy
{
    public static void Run(IReadOnlyList<long> seeds, TextWriter output)
    {
        var trucks = seeds.SelectMany(seed => Trucks(CheckStudy.Options(seed, 5, 100, 12))).ToList();
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Seeds {string.Join(", ", seeds)}: {trucks.Count} trucks, {trucks.Sum(t => t.Years):F1} truck-years, {trucks.Sum(t => t.Stops.Count)} calls for a stop."));
        output.WriteLine();
        output.WriteLine("| while present | injected | with a call | calls | median days from onset | vacuum | pressure | temperature |");
        output.WriteLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var cause in trucks.SelectMany(t => t.Faults).GroupBy(f => f.Fault).OrderBy(g => g.Key.ToString(), StringComparer.Ordinal))
        {
            var called = trucks.SelectMany(t => t.Faults.Where(f => f.Fault == cause.Key).Select(f => (Fault: f, Stops: t.Stops.Where(s => IsPresent(f, s)).ToList())))
                .Where(f => f.Stops.Count > 0).ToList();
            if (called.Count > 0)
            {
                Line(cause.Key.ToString(), cause.Count(), called.Count, [.. called.SelectMany(c => c.Stops)], Median(called.Select(c => (c.Stops[0].Seen.From - c.Fault.Onset).TotalDays)));
            }
        }

        var alone = trucks.Select(t => t.Stops.Where(s => !t.Faults.Exists(f => IsPresent(f, s))).ToList()).Where(s => s.Count > 0).ToList();
        Line("no fault", trucks.Count, alone.Count, [.. alone.SelectMany(s => s)], double.NaN);

        void Line(string name, int injected, int with, List<LimitSighting> stops, double days) => output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| {name} | {injected} | {with} | {stops.Count} | {(double.IsNaN(days) ? "" : days.ToString("F0", CultureInfo.InvariantCulture))} | {Count(stops, FindingKind.HeldAboveVacuumLimit)} | {Count(stops, FindingKind.PressureAboveLimit)} | {Count(stops, FindingKind.RunningHot)} |"));
    }

    /// <summary>The watched trucks of a fleet.</summary>
    public static List<WatchedTruck> Trucks(SimulationOptions options)
    {
        var fleet = SimulatedFleet.Create(options);
        var models = fleet.PumpModels.ToDictionary(m => m.Model, StringComparer.Ordinal);
        var faults = fleet.Truth().Faults.ToLookup(f => f.Truck);
        var years = (fleet.End - fleet.Start).TotalDays / 365.25;
        return [.. fleet.Trucks.AsParallel().AsOrdered().Select(truck => new WatchedTruck(truck.Id, years, [.. faults[truck.Id]], Stops(fleet, truck, models[truck.PumpModel])))];
    }

    private static List<LimitSighting> Stops(SimulatedFleet fleet, Truck truck, PumpModel model)
    {
        var watch = new TruckWatch(model, new WatchOptions(), new FindingOptions().PressureTolerance);
        var stops = new Dictionary<(FindingKind, DateTimeOffset), LimitSighting>();
        foreach (var sample in SimulatedRuns.Samples(fleet, truck))
        {
            foreach (var seen in watch.Take([sample]))
            {
                stops[(seen.Kind, seen.Seen.From)] = seen;
            }
        }

        return [.. stops.Values.OrderBy(s => s.Seen.From)];
    }

    private static bool IsPresent(TruthFault fault, LimitSighting stop) => fault.Onset <= stop.Seen.LastSeen && !(fault.Ends < stop.Seen.From);

    private static int Count(List<LimitSighting> stops, FindingKind kind) => stops.Count(s => s.Kind == kind);

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted[sorted.Count / 2];
    }
}

/// <summary>A truck and what the watch of limits said.</summary>
/// <param name="Truck">Its id.</param>
/// <param name="Years">How long it was watched.</param>
/// <param name="Faults">What was injected, and worn vanes.</param>
/// <param name="Stops">Each passing of a limit that called for a stop, once, in order of time.</param>
internal sealed record WatchedTruck(string Truck, double Years, List<TruthFault> Faults, List<LimitSighting> Stops);
