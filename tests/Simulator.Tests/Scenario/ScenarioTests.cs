using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Tests.Scenario;

public class ScenarioTests
{
    private const double GallonL = 3.785411784;

    private static readonly SimulatedFleet Fleet = Fleets.Demonstration.Value;
    private static readonly Lazy<FleetTruth> Truth = new(Fleet.Truth);

    [Fact]
    public void Demonstration_HasEveryDemandedTruck()
    {
        var faults = Truth.Value.Faults.Select(f => f.Fault).ToHashSet();
        Assert.Contains(Cause.OilFeedHigh, faults);
        Assert.Contains(Cause.OilLineChoked, faults);
        Assert.Contains(Cause.DischargeCarboned, faults);
        Assert.Contains(Cause.LeakTankSide, faults);
        Assert.Contains(Cause.VanesWorn, faults);
        Assert.Single(Fleet.ServiceRecords, r => r.Kind == ServiceKind.Rebuild);
        Assert.True(Fleet.Plans.Count(p => p.Role is TruckRole.HealthyFresh or TruckRole.HealthyMidLife) >= 4);
        Assert.Equal(3, Fleet.Trucks.Select(t => t.PumpModel).Distinct().Count());
        Assert.Equal(3, Fleet.Trucks.Select(t => t.Yard).Distinct().Count());
        Assert.Equal(3, Fleet.Trucks.Select(t => t.Elevation!.Value.Metres).Distinct().Count());
    }

    [Fact]
    public void LargerFleet_RepeatsThePatternWithTheOtherCauses()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 24 });
        var faults = fleet.Truth().Faults.Select(f => f.Fault).ToHashSet();
        Assert.Contains(Cause.OilLeak, faults);
        Assert.Contains(Cause.CoolingPoor, faults);
        Assert.Equal(fleet.Trucks.Length, fleet.Trucks.Select(t => t.Id).Distinct().Count());
        Assert.Equal(fleet.Trucks.Length, fleet.Trucks.Select(t => t.PumpSerial).Distinct().Count());
        Assert.Equal("T24", fleet.Trucks[^1].Id);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void NearLimitTrucks_CrossWeeksToAFewMonthsAfterTheEnd(long seed)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Seed = seed });
        var lives = fleet.Truth().Lives;
        foreach (var plan in fleet.Plans.Where(p => p.Role is TruckRole.NearLimitSoon or TruckRole.NearLimitLater))
        {
            var life = lives.Single(l => l.Truck == plan.Truck.Id);
            Assert.InRange((life.LimitAt!.Value - fleet.End).TotalDays, 7, 180);
        }
    }

    [Fact]
    public void Truth_LivesAreThoseOfTheRegister()
    {
        foreach (var truck in Fleet.Trucks)
        {
            var registered = LifeHistory.Build(truck, Fleet.ServiceRecords);
            var truth = Truth.Value.Lives.Where(l => l.Truck == truck.Id).ToList();
            Assert.Equal(registered.Select(l => l.FittedAt), truth.Select(l => l.FittedAt));
            Assert.Equal(registered.Select(l => l.EndedAt), truth.Select(l => l.RemovedAt));
            Assert.All(registered.Zip(truth), p => Assert.Equal(p.First.MeterAtFittingH, p.Second.MeterAtFittingH, 0.01));
            Assert.All(truth, l => Assert.True(l.FailsAtH is null || l.FailsAtH > l.LimitAtH));
        }
    }

    [Fact]
    public void Rebuild_BringsTheFlowBack()
    {
        var truck = Fleet.Plans.Single(p => p.Role == TruckRole.Rebuilt).Truck.Id;
        var rebuilt = Fleet.ServiceRecords.Single(r => r.Kind == ServiceKind.Rebuild);
        Assert.Equal(truck, rebuilt.Truck);
        Assert.InRange((rebuilt.At - Fleet.Start) / (Fleet.End - Fleet.Start), 0.2, 0.5);

        var times = Rises.StartUpChecks(Fleets.DemonstrationSamples(truck)).ToList();
        var before = times.Where(t => t.At < rebuilt.At).Select(t => t.SecondsTo50KPa).Order().ToList();
        var after = times.Where(t => t.At > rebuilt.At).Select(t => t.SecondsTo50KPa).Order().ToList();

        // By the closed form at the flow kept that the truth tells.
        var plan = Fleet.Plans.Single(p => p.Truck.Id == truck);
        double Seconds(Func<TruthCheck, bool> when)
        {
            var kept = Truth.Value.Checks.Where(c => c.Truck == truck && when(c)).Select(c => c.FlowKept).Order().ToList();
            var leverage = SlipLaw.ReferenceVacuumKPa / (plan.Yard.StandardPressureKPa - SlipLaw.ReferenceVacuumKPa);
            var slip = (1 - (kept[kept.Count / 2] * (1 - (SlipLaw.NewShare * leverage)))) / leverage;
            return new TankEvacuation(plan.Yard.StandardPressureKPa, 1, slip, 1).SecondsTo(2, 50);
        }

        var expected = Seconds(c => c.At > rebuilt.At) / Seconds(c => c.At < rebuilt.At);
        Assert.True(expected < 0.92);

        // Samples come every few seconds: a median would jump by as much, a mean of the middle ones does not. Part-full tanks and cut checks fall outside the middle.
        double Middle(List<double> seconds) => seconds.Skip(seconds.Count / 5).Take(3 * seconds.Count / 5).Average();
        Assert.Equal(expected, Middle(after) / Middle(before), 0.04);

        // Its width before the rebuild belongs to the life that it ended.
        var lives = LifeHistory.Build(Fleet.Trucks.Single(t => t.Id == truck), Fleet.ServiceRecords);
        var width = Fleet.ServiceRecords.Last(r => r.Truck == truck && r.Kind == ServiceKind.VaneWidth && r.At < rebuilt.At);
        Assert.True(lives[0].Covers(width.At));
    }

    [Fact]
    public void HealthyTrucks_UseLessThanAGallonOfOilADay()
    {
        foreach (var plan in Fleet.Plans.Where(p => p.Faults.IsEmpty && p.Sensors[Signal.OilUsed] is not null))
        {
            Assert.InRange(OilByDay(plan.Truck).Max(), 1, GallonL);
        }
    }

    [Fact]
    public void OilFaults_ShowInTheOilUsed()
    {
        foreach (var (role, low, high) in new[] { (TruckRole.OilHigh, 1.45, 2.0), (TruckRole.OilStarved, 0.4, 0.6) })
        {
            var plan = Fleet.Plans.Single(p => p.Role == role);
            var fault = plan.Faults.Single();
            var before = RatePerHour(plan.Truck, Fleet.Start, fault.Onset);
            var after = RatePerHour(plan.Truck, fault.Onset + fault.Growth, Fleet.End);
            Assert.InRange(after / before, low, high);
        }
    }

    [Fact]
    public void HotTruck_RunsHotterOverAmbient()
    {
        var plan = Fleet.Plans.Single(p => p.Role == TruckRole.Hot);
        var fault = plan.Faults.Single();
        double Rise(DateTimeOffset from, DateTimeOffset to) => Fleets.DemonstrationSamples(plan.Truck.Id)
            .Where(s => s.At >= from && s.At < to && s[Signal.Pto] == 1 && s[Signal.PumpTemp] is not null)
            .Average(s => s[Signal.PumpTemp]!.Value - s[Signal.AmbientTemp]!.Value);
        Assert.InRange(Rise(fault.Onset + fault.Growth, Fleet.End) / Rise(Fleet.Start, fault.Onset), 1.2, 1.5);
    }

    [Fact]
    public void StarvedTruck_WearsFasterAndItsHarmIsDated()
    {
        var fault = Truth.Value.Faults.Single(f => f.Fault == Cause.OilLineChoked);
        Assert.True(fault.Serious);
        Assert.InRange((fault.HarmAt!.Value - fault.Onset).TotalDays, 0, 30);
    }

    [Fact]
    public void Sensors_FollowThePattern()
    {
        bool Has(int index, Signal signal) => Fleet.Plans[index].Sensors[signal] is not null;
        Assert.Single(Fleet.Plans, p => p.Sensors[Signal.Pto] is null);
        Assert.Single(Fleet.Plans, p => p.Sensors[Signal.PumpSpeed] is null);
        Assert.Equal(2, Fleet.Plans.Count(p => p.Sensors[Signal.OilLevel] is not null));
        Assert.All(Enumerable.Range(0, 12), i => Assert.NotEqual(Has(i, Signal.OilLevel), Has(i, Signal.OilUsed)));
        Assert.InRange(Fleet.Plans.Count(p => p.Sensors[Signal.Baro] is not null), 2, 6);
        Assert.Equal(2, Fleet.Plans.Select(p => p.Sensors[Signal.Vacuum]!.Unit.Symbol).Distinct().Count());
    }

    [Fact]
    public void NoFaults_LeavesEveryTruckHealthy()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Faults = FaultScenario.None });
        Assert.DoesNotContain(fleet.Truth().Faults, f => f.Fault != Cause.VanesWorn);
        Assert.All(fleet.Truth().Faults, f => Assert.NotNull(f.Ends));
    }

    private static IEnumerable<double> OilByDay(Truck truck)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById(truck.TimeZone);
        return Fleets.DemonstrationSamples(truck.Id)
            .Where(s => s[Signal.OilUsed] is not null)
            .GroupBy(s => TimeZoneInfo.ConvertTime(s.At, zone).Date)
            .Select(g => g.Last()[Signal.OilUsed]!.Value - g.First()[Signal.OilUsed]!.Value);
    }

    private static double RatePerHour(Truck truck, DateTimeOffset from, DateTimeOffset to)
    {
        var seen = Fleets.DemonstrationSamples(truck.Id).Where(s => s.At >= from && s.At < to && s[Signal.OilUsed] is not null && s[Signal.PtoHours] is not null).ToList();
        return (seen[^1][Signal.OilUsed]!.Value - seen[0][Signal.OilUsed]!.Value) / (seen[^1][Signal.PtoHours]!.Value - seen[0][Signal.PtoHours]!.Value);
    }
}
