using Vanehour.Fleet;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Simulation;

namespace Vanehour.Simulator;

/// <summary>Finds out the truth of a fleet by going on past its end, life by life, with the rebuild that ended the life left out.</summary>
internal static class TruthPass
{
    /// <summary>How far past the end it looks, months.</summary>
    private const int HorizonMonths = 24;

    public static FleetTruth Run(SimulatedFleet fleet)
    {
        var trucks = fleet.Plans.AsParallel().AsOrdered().Select(p => Run(fleet, p)).ToList();
        return new FleetTruth([.. trucks.SelectMany(t => t.Faults)], [.. trucks.SelectMany(t => t.Lives)]);
    }

    private static (List<TruthFault> Faults, List<TruthLife> Lives) Run(SimulatedFleet fleet, TruckPlan plan)
    {
        var seen = fleet.Simulate(plan);
        Go(seen, fleet, fleet.LastDay, until: null);

        var faults = new List<TruthFault>();
        var lives = new List<TruthLife>();
        SimulatedLife? running = null;
        for (var number = 0; number < seen.Lives.Count; number++)
        {
            var wouldBe = fleet.Simulate(plan, keepLifeFrom: number);
            var n = number;
            Go(wouldBe, fleet, fleet.LastDay.AddMonths(HorizonMonths), s => s.Lives.Count > n && s.Lives[n].FailsAtH is not null);
            var life = seen.Lives[number];
            var whole = wouldBe.Lives[number];
            running = whole;
            lives.Add(new TruthLife
            {
                Truck = plan.Truck.Id,
                PumpSerial = plan.Truck.PumpSerial,
                FittedAt = life.FittedAt,
                MeterAtFittingH = life.MeterAtFittingH,
                LimitAt = whole.LimitAt,
                LimitAtH = whole.LimitAtH,
                FailsAtH = whole.FailsAtH,
                RemovedAt = life.RemovedAt,
            });
            if (life.WornAt is { } worn)
            {
                faults.Add(WornVanes(plan, life, worn, life.RemovedAt is null ? whole.LimitAt : life.LimitAt));
            }
        }

        foreach (var fault in plan.Faults)
        {
            faults.Add(new TruthFault
            {
                Truck = plan.Truck.Id,
                PumpSerial = plan.Truck.PumpSerial,
                Fault = fault.Cause,
                Onset = fault.Onset.ToUniversalTime(),
                Severity = fault.Severity,
                Serious = fault.Serious,
                HarmAt = fault.Serious ? running!.HarmAt : null,
                Findings = FindingsOf.Cause(fault.Cause),
            });
        }

        return ([.. faults.OrderBy(f => f.Onset)], lives);
    }

    private static void Go(TruckSimulation simulation, SimulatedFleet fleet, DateOnly lastDay, Func<TruckSimulation, bool>? until)
    {
        for (var date = fleet.Options.From; date <= lastDay && until?.Invoke(simulation) != true; date = date.AddDays(1))
        {
            simulation.RunDay(date, null, null);
        }
    }

    private static TruthFault WornVanes(TruckPlan plan, SimulatedLife life, DateTimeOffset worn, DateTimeOffset? limitAt) => new()
    {
        Truck = plan.Truck.Id,
        PumpSerial = plan.Truck.PumpSerial,
        Fault = Cause.VanesWorn,
        Onset = worn,
        Severity = Math.Round(Math.Min(1, life.LastWear), 3),
        Serious = true,
        HarmAt = limitAt,
        Ends = life.RemovedAt,
        Findings = FindingsOf.Cause(Cause.VanesWorn),
    };
}
