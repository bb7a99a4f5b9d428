using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;
using Vanehour.Simulator.Simulation;

namespace Vanehour.Simulator;

/// <content>A fleet gone through week by week, for policies that look at all trucks at once.</content>
public sealed partial class SimulatedFleet
{
    /// <summary>
    /// Goes through the same fleet, days and accidents of wear under a policy that sees the whole fleet. Rebuilds that the scenario fixes are left out, so that the policy alone
    /// decides. Cost: one pass through the physics with sensors, and the policy's own.
    /// </summary>
    /// <param name="decides">When pumps are rebuilt.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancellationToken">Stops between weeks.</param>
    public PolicyOutcome RunTogether(IFleetPolicy decides, IProgress<double>? progress = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(decides);
        var chosen = new ChosenTrucks();
        var trucks = plans.Select(p => new Walk(this, p with { RebuildOn = null }, chosen)).ToImmutableArray();
        for (var date = Options.From; date <= LastDay;)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (date.DayOfWeek == DayOfWeek.Sunday)
            {
                chosen.Trucks = decides.Choose(date, [.. trucks.SelectMany(t => t.Records)]);
            }

            // On Sundays nobody drives, so what was chosen on one is not asked for again until the next.
            var until = date.AddDays(((7 - (int)date.DayOfWeek) % 7) is 0 ? 7 : (7 - (int)date.DayOfWeek) % 7);
            var from = date;
            trucks.AsParallel().WithCancellation(cancellationToken).ForAll(t => t.Go(from, until <= LastDay ? until : LastDay.AddDays(1), decides));
            date = until;
            progress?.Report(Math.Min(1, (double)(date.DayNumber - Options.From.DayNumber) / (LastDay.DayNumber - Options.From.DayNumber + 1)));
        }

        return new PolicyOutcome([.. trucks.Select(t => t.Outcome)]);
    }

    private sealed class ChosenTrucks : IMaintenancePolicy
    {
        public IReadOnlySet<string> Trucks { get; set; } = ImmutableHashSet<string>.Empty;

        public bool Rebuild(in PumpObservation seen) => Trucks.Contains(seen.Truck);
    }

    private sealed class Walk
    {
        private readonly TruckPlan plan;
        private readonly TruckSimulation simulation;
        private readonly TruckGateway? gateway;
        private readonly double wearAtStart;
        private readonly List<Reading> readings = new(2048);
        private readonly List<Sample> samples = [];

        public Walk(SimulatedFleet fleet, TruckPlan plan, IMaintenancePolicy chosen)
        {
            this.plan = plan;
            simulation = fleet.Simulate(plan, chosen);
            gateway = fleet.GatewayOf(plan, simulation, null);
            wearAtStart = simulation.Pump.Wear;
            Records = [.. plan.PastRecords];
        }

        public List<ServiceRecord> Records { get; }

        public PolicyOutcomeOfTruck Outcome => OutcomeOf(simulation, plan, wearAtStart);

        public void Go(DateOnly from, DateOnly until, IFleetPolicy decides)
        {
            for (var date = from; date < until; date = date.AddDays(1))
            {
                readings.Clear();
                simulation.RunDay(date, readings, Records);
                if (readings.Count > 0)
                {
                    var day = Gathered(plan, gateway, date, readings);
                    samples.Clear();
                    samples.AddRange(readings.Select(r => new Sample(plan.Truck.Id, r.UnixS * 1000, day.Sensors.ToCanonical(r.Values))));
                    decides.See(plan.Truck.Id, samples);
                }
            }
        }
    }
}
