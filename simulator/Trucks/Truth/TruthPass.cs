using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Simulation;

namespace Vanehour.Simulator;

/// <summary>
/// One pass through a truck's physics without sensors: its service records, and what is true of it. What would have become of a life that a rebuild or the end of the time
/// simulated cut off is found by going on from there with longer steps and no rebuild.
/// </summary>
internal sealed class TruthPass
{
    /// <summary>How far past the end it looks, months.</summary>
    private const int HorizonMonths = 24;

    private readonly SimulatedFleet fleet;
    private readonly TruckPlan plan;
    private readonly TruckSimulation simulation;
    private readonly List<TruckSimulation> wouldBe = [];
    private readonly List<DateOnly> cutOn = [];
    private DateOnly today;

    private TruthPass(SimulatedFleet fleet, TruckPlan plan)
    {
        this.fleet = fleet;
        this.plan = plan;
        simulation = fleet.Simulate(plan);
        simulation.Checked = Checks.Add;
        simulation.OutOfService = (from, to) => Stays.Add(new TruthStay(plan.Truck.Id, plan.Yard.At(from, 0).ToUniversalTime(), plan.Yard.At(to, 0).ToUniversalTime()));
        simulation.BeforeLifeEnds = s => Keep(s);
    }

    public List<ServiceRecord> Services { get; } = [];

    public List<TruthCheck> Checks { get; } = [];

    public List<TruthStay> Stays { get; } = [];

    public TruckSimulation Simulation => simulation;

    /// <summary>Goes through the time simulated.</summary>
    public static TruthPass Run(SimulatedFleet fleet, TruckPlan plan)
    {
        var pass = new TruthPass(fleet, plan);
        for (var date = fleet.Options.From; date <= fleet.LastDay; date = date.AddDays(1))
        {
            pass.today = date;
            pass.simulation.RunDay(date, null, pass.Services);
        }

        return pass;
    }

    /// <summary>What is true of the whole fleet.</summary>
    public static FleetTruth Of(SimulatedFleet fleet, ImmutableArray<TruthPass> passes)
    {
        var trucks = passes.AsParallel().AsOrdered().Select(p => p.Truth()).ToList();
        return new FleetTruth(
            [.. trucks.SelectMany(t => t.Faults)], [.. trucks.SelectMany(t => t.Lives)], [.. passes.SelectMany(p => p.Checks)])
        {
            Drifts =
            [
                .. passes.SelectMany(p => p.plan.Faults.Where(f => f.Cause == Cause.VanesWorn)
                    .Select(f => new TruthDrift(p.plan.Truck.Id, f.Onset.ToUniversalTime(), InjectedFault.FastWearFactor))),
            ],
            Stays = [.. passes.SelectMany(p => p.Stays)],
            Gateway = [.. passes.AsParallel().AsOrdered().SelectMany(p => fleet.GatewayEvents(p.plan))],
        };
    }

    private void Keep(TruckSimulation s)
    {
        wouldBe.Add(s.WithoutRebuilds());
        cutOn.Add(today);
    }

    private (List<TruthFault> Faults, List<TruthLife> Lives) Truth()
    {
        var faults = new List<TruthFault>();
        var lives = new List<TruthLife>();
        TruckSimulation? last = null;
        for (var number = 0; number < simulation.Lives.Count; number++)
        {
            var life = simulation.Lives[number];

            // Kept sims are in the order of the lives that ended; the life that runs, or that failed without a successor, goes on from the end.
            last = number < wouldBe.Count ? wouldBe[number] : simulation.WithoutRebuilds();
            var from = number < cutOn.Count ? cutOn[number] : fleet.LastDay;
            var whole = last.Lives[number];
            var horizon = fleet.LastDay.AddMonths(HorizonMonths);
            for (var date = from.AddDays(1); date <= horizon && whole.FailsAtH is null; date = date.AddDays(1))
            {
                last.RunDay(date, null, null);
            }

            lives.Add(new TruthLife
            {
                Truck = plan.Truck.Id,
                PumpSerial = life.PumpSerial,
                FittedAt = life.FittedAt,
                MeterAtFittingH = life.MeterAtFittingH,
                LimitAt = whole.LimitAt,
                LimitAtH = whole.LimitAtH,
                FailsAtH = whole.FailsAtH,
                RemovedAt = life.RemovedAt,
            });
            if (life.WornAt is { } worn)
            {
                faults.Add(WornVanes(life, worn, life.RemovedAt is null ? whole.LimitAt : life.LimitAt));
            }
        }

        for (var i = 0; i < plan.Faults.Length; i++)
        {
            var fault = plan.Faults[i];
            if (fault.Cause == Cause.VanesWorn)
            {
                continue;
            }

            faults.Add(new TruthFault
            {
                Truck = plan.Truck.Id,
                PumpSerial = simulation.Lives.Last(l => l == simulation.Lives[0] || l.FittedAt <= fault.Onset).PumpSerial,
                Fault = fault.Cause,
                Onset = fault.Onset.ToUniversalTime(),
                Severity = fault.Severity,
                Serious = fault.Serious,
                HarmAt = simulation.HarmAt[i] ?? (fault.Ends is null ? last?.HarmAt[i] : null),
                Ends = fault.Ends?.ToUniversalTime(),
                Findings = FindingsOf.Cause(fault.Cause),
            });
        }

        return ([.. faults.OrderBy(f => f.Onset)], lives);
    }

    private TruthFault WornVanes(SimulatedLife life, DateTimeOffset worn, DateTimeOffset? limitAt) => new()
    {
        Truck = plan.Truck.Id,
        PumpSerial = life.PumpSerial,
        Fault = Cause.VanesWorn,
        Onset = worn,
        Severity = Math.Round(Math.Min(1, life.LastWear), 3),
        Serious = true,
        HarmAt = limitAt,
        Ends = life.RemovedAt,
        Findings = FindingsOf.Cause(Cause.VanesWorn),
    };
}
