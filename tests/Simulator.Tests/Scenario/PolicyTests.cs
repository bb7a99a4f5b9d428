using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests.Scenario;

public class PolicyTests
{
    private static readonly SimulatedFleet Fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 4, Months = 30, Faults = FaultScenario.None });

    [Fact]
    public void Policies_AreComparedOnTheSameFleet()
    {
        var inspected = Fleet.RunUnder(InspectionPolicy.Instance);
        var failing = Fleet.RunUnder(new RunToFailurePolicy());
        var early = Fleet.RunUnder(new FixedIntervalPolicy(600));
        Assert.Equal(Fleet.Trucks.Select(t => t.Id), inspected.Trucks.Select(t => t.Truck));
        Assert.Equal(0, failing.PlannedRebuilds);
        Assert.True(failing.Failures >= 4);
        Assert.Equal(0, early.Failures);
        Assert.True(early.PlannedRebuilds > inspected.PlannedRebuilds);
        Assert.True(early.UnusedLives > inspected.UnusedLives + 1);
        Assert.True(inspected.Failures <= 1);
        Assert.True(inspected.UnusedLives < 0.1 * inspected.PlannedRebuilds);

        // A failed pump stands for a week or two, so that less is worked.
        Assert.InRange(failing.PtoHours / inspected.PtoHours, 0.9, 1);
    }

    [Fact]
    public void SamePolicy_SameOutcome_AndTheFleetIsLeftAsItWas()
    {
        var records = Fleet.ServiceRecords;
        var once = Fleet.RunUnder(new FixedIntervalPolicy(900));
        Assert.Equal(once.Trucks.AsEnumerable(), Fleet.RunUnder(new FixedIntervalPolicy(900)).Trucks);
        Assert.Equal(records, Fleet.ServiceRecords);
    }

    [Fact]
    public void Policy_SeesTheDaysSamplesBeforeItIsAsked_AndNothingElseChanges()
    {
        var watching = new Watching();
        var small = SimulatedFleet.Create(new SimulationOptions { Trucks = 2, Months = 2 });
        var outcome = small.RunUnder(watching);
        foreach (var truck in small.Trucks)
        {
            Assert.Equal(small.Samples(truck.Id).Count(), watching.Samples[truck.Id]);
        }

        Assert.Equal(small.RunUnder(new RunToFailurePolicy()).Trucks.AsEnumerable(), outcome.Trucks);
        Assert.True(watching.Asked > 14);
        Assert.All(watching.Seen, o => Assert.InRange(o.CheckSpeedAtLimit, 0.7, 0.95));

        // As new the checks go about as fast as the book says; tank, pump and gauge are some percent off it.
        Assert.All(watching.Seen.Where(o => o.CheckSpeed is not null), o => Assert.InRange(o.CheckSpeed!.Value, 0.6, 1.15));
        Assert.Contains(watching.Seen, o => o.VaneWidthMm is not null);
    }

    [Fact]
    public void Fleet_RunsUnderThePolicyThatItWasMadeWith()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 24, Faults = FaultScenario.None }, new RunToFailurePolicy());
        var truth = fleet.Truth();
        Assert.Contains(fleet.ServiceRecords, r => r.Kind == ServiceKind.Failure);
        foreach (var failure in fleet.ServiceRecords.Where(r => r.Kind == ServiceKind.Failure))
        {
            // The repair follows at the same meter, and the truck does not work between.
            var repair = fleet.ServiceRecords.First(r => r.Truck == failure.Truck && r.At > failure.At && r.Kind == ServiceKind.Rebuild);
            Assert.Equal(failure.MeterH, repair.MeterH);
            Assert.InRange((repair.At - failure.At).TotalDays, 7, 15);
            Assert.DoesNotContain(fleet.Samples(failure.Truck), s => s.At > failure.At.AddHours(2) && s.At < repair.At);
            var life = truth.Lives.Single(l => l.Truck == failure.Truck && l.RemovedAt == failure.At);
            Assert.Equal(life.FailsAtH!.Value, failure.MeterH - life.MeterAtFittingH, 0.02);
        }
    }

    [Fact]
    public void Swap_PutsASpareOnUnderItsOwnSerial()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 24, Months = 30, Faults = FaultScenario.None });
        var swaps = fleet.Plans.Where(p => p.SwapsPumps).ToList();
        Assert.NotEmpty(swaps);
        var serials = new HashSet<string>();
        foreach (var plan in swaps)
        {
            var pass = TruthPass.Run(fleet, plan);
            var lives = pass.Simulation.Lives;
            Assert.True(lives.Count > 1);
            foreach (var record in pass.Services.Where(r => r.Kind == ServiceKind.Fitted))
            {
                Assert.Contains(pass.Services, r => r.At == record.At && r.Kind == ServiceKind.Removed && r.MeterH == record.MeterH);
                Assert.Contains(lives, l => l.PumpSerial == record.PumpSerial && l.FittedAt == record.At);
                Assert.True(serials.Add(record.PumpSerial!));
            }

            Assert.Equal(lives.Count, lives.Select(l => l.PumpSerial).Distinct().Count());
        }
    }

    private sealed class Watching : IMaintenancePolicy
    {
        private readonly Lock gate = new();

        public Dictionary<string, int> Samples { get; } = [];

        public List<PumpObservation> Seen { get; } = [];

        public int Asked { get; private set; }

        public bool WantsSamples => true;

        public bool Rebuild(in PumpObservation seen)
        {
            lock (gate)
            {
                Asked++;
                Seen.Add(seen);
            }

            return false;
        }

        public void See(string truck, IReadOnlyList<Sample> samples)
        {
            lock (gate)
            {
                Samples[truck] = Samples.GetValueOrDefault(truck) + samples.Count;
            }
        }
    }
}
