using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Watching;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>A truck and what the watch of limits said.</summary>
/// <param name="Truck">Its id.</param>
/// <param name="Years">How long it was watched.</param>
/// <param name="Faults">What was injected, and worn vanes.</param>
/// <param name="Usual">Each passing of a limit that the watch called, once, in order of time.</param>
/// <param name="Quick">The same of a watch that calls after <see cref="QuickS"/>.</param>
/// <param name="Above">Each stretch of samples all above a limit, counted without the watch.</param>
internal sealed record WatchedTruck(string Truck, double Years, List<TruthFault> Faults, List<Passing> Usual, List<Passing> Quick, List<Passing> Above)
{
    public const double QuickS = 30;
    private static readonly TimeSpan Gap = TimeSpan.FromMinutes(2);

    public static WatchedTruck Watch(SimulatedFleet fleet, Truck truck, PumpModel model, double years, List<TruthFault> faults)
    {
        var tolerance = new FindingOptions().PressureTolerance;
        var usual = new Calls(new TruckWatch(model, new WatchOptions(), tolerance));
        var quick = new Calls(new TruckWatch(model, new WatchOptions { VacuumHoldS = QuickS, PressureHoldS = QuickS, TemperatureHoldS = QuickS }, tolerance));
        Stretches[] above =
        [
            new(FindingKind.HeldAboveVacuumLimit, Signal.Vacuum, model.MaxVacuum.Kilopascals),
            new(FindingKind.PressureAboveLimit, Signal.Pressure, tolerance * model.MaxPressure.Kilopascals),
            new(FindingKind.RunningHot, Signal.PumpTemp, model.MaxTemperature.Celsius),
        ];
        foreach (var sample in SimulatedRuns.Samples(fleet, truck))
        {
            usual.Take(sample);
            quick.Take(sample);
            foreach (var stretches in above)
            {
                stretches.Take(sample);
            }
        }

        return new WatchedTruck(truck.Id, years, faults, usual.InOrder(), quick.InOrder(), [.. above.SelectMany(a => a.All)]);
    }

    private sealed class Calls(TruckWatch watch)
    {
        private readonly Dictionary<(FindingKind, DateTimeOffset), Passing> called = [];

        public void Take(Sample sample)
        {
            foreach (var call in watch.Take([sample]))
            {
                called[(call.Kind, call.Seen.From)] = new Passing(call.Kind, call.Seen.From, call.Seen.LastSeen);
            }
        }

        public List<Passing> InOrder() => [.. called.Values.OrderBy(c => c.From)];
    }

    private sealed class Stretches(FindingKind kind, Signal signal, double limit)
    {
        private Passing? now;

        public List<Passing> All { get; } = [];

        public void Take(Sample sample)
        {
            var value = sample.Values.Raw(signal);
            if (double.IsNaN(value))
            {
                return;
            }

            if (!(value > limit))
            {
                now = null;
                return;
            }

            if (now is null || sample.At - now.To > Gap)
            {
                now = new Passing(kind, sample.At, sample.At);
                All.Add(now);
                return;
            }

            All[^1] = now = now with { To = sample.At };
        }
    }
}
