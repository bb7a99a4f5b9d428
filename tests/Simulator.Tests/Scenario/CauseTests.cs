using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Tests.Scenario;

/// <summary>What each cause does to one and the same truck over the same eight weeks, beside the truck without it.</summary>
public class CauseTests
{
    private static readonly SimulatedFleet Fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 12, Months = 2, Faults = FaultScenario.None });

    private static readonly Lazy<Seen> Healthy = new(() => Run(null));

    /// <summary>Every cause that the simulator can inject.</summary>
    public static TheoryData<Cause> Causes()
    {
        var data = new TheoryData<Cause>();
        foreach (var cause in Injectable)
        {
            data.Add(cause);
        }

        return data;
    }

    private static IEnumerable<Cause> Injectable =>
        Enum.GetValues<Cause>().Where(c => c is not (Cause.VanesWorn or Cause.StoreUnreachable or Cause.StoreRefusing or Cause.StoreSlow));

    [Fact]
    public void OilFaults_ActOnTheFeed()
    {
        Assert.InRange(Run(Cause.OilFeedHigh).OilPerH / Healthy.Value.OilPerH, 1.6, 1.95);
        Assert.InRange(Run(Cause.OilLeak).OilPerH / Healthy.Value.OilPerH, 1.6, 2.05);
        var choked = Run(Cause.OilLineChoked);
        Assert.InRange(choked.OilPerH / Healthy.Value.OilPerH, 0.15, 0.45);
        Assert.True(choked.HottestC > Healthy.Value.HottestC + 10);
        Assert.True(choked.WearPerH > 2 * Healthy.Value.WearPerH);
        var thinned = Run(Cause.OilWrongOrThinned);
        Assert.True(thinned.WearPerH > 1.3 * Healthy.Value.WearPerH);
        Assert.True(thinned.OilPerH > 1.05 * Healthy.Value.OilPerH);
    }

    [Fact]
    public void HeatFaults_HeatThePump()
    {
        foreach (var cause in new[] { Cause.CoolingPoor, Cause.DischargeCarboned, Cause.HoseLiningDischarge })
        {
            Assert.True(Run(cause).MeanRiseK > 1.08 * Healthy.Value.MeanRiseK, $"{cause}");
        }

        // Liquid that gets through cools at first (TruckMachineTests) and wears by thin oil in the end.
        Assert.True(Run(Cause.CarryOver).WearPerH > 1.2 * Healthy.Value.WearPerH);
    }

    [Fact]
    public void Relief_LowCapsTheVacuumWhileThePumpDownStaysHealthy()
    {
        var low = Run(Cause.ReliefLow);
        Assert.Equal(Healthy.Value.DeepestKPa - 8, low.DeepestKPa, 1.5);
        Assert.Equal(1, low.CheckS / Healthy.Value.CheckS, 0.01);
        Assert.Equal(Healthy.Value.DeepestKPa + 6.4, Run(Cause.ReliefHigh).DeepestKPa, 1.5);
        Assert.True(Run(Cause.ReliefStuck).DeepestKPa > Healthy.Value.DeepestKPa + 9);
    }

    [Fact]
    public void PathAndSpeedFaults_SlowThePumpDown()
    {
        foreach (var cause in new[] { Cause.LeakTankSide, Cause.VanesSticking, Cause.Underspeed, Cause.CouplingSlip, Cause.HoseLiningDischarge })
        {
            Assert.True(Run(cause).CheckS > 1.02 * Healthy.Value.CheckS, $"{cause}: {Run(cause).CheckS} against {Healthy.Value.CheckS}");
        }

        Assert.True(Run(Cause.Overspeed).CheckS < 0.9 * Healthy.Value.CheckS);

        // Before a choked pipe the gauge beside the pump runs ahead of the tank, and the tank fills slower.
        foreach (var cause in new[] { Cause.InletFilterClogged, Cause.HoseLiningInlet })
        {
            Assert.True(Run(cause).LoadedM3 < 0.995 * Healthy.Value.LoadedM3, $"{cause}: {Run(cause).LoadedM3} against {Healthy.Value.LoadedM3}");
        }
    }

    [Fact]
    public void Float_ThatSticksLeavesTanksHalfEmpty() => Assert.True(Run(Cause.FloatClosesEarly).LoadedM3 < 0.8 * Healthy.Value.LoadedM3);

    [Fact]
    public void InstrumentFaults_LeaveThePumpAlone()
    {
        foreach (var cause in new[] { Cause.SensorWrong, Cause.MeterReset, Cause.GatewaySilent })
        {
            Assert.Equal(Healthy.Value.WearPerH, Run(cause).WearPerH);
            Assert.Equal(Healthy.Value.CheckS, Run(cause).CheckS);
        }

        Assert.Equal(0, Run(Cause.GatewaySilent).Samples);
        Assert.True(Run(Cause.MeterReset).LastMeterH < 400);
        Assert.True(Run(Cause.SensorWrong).ShownKPa < 0.9 * Healthy.Value.ShownKPa);
    }

    [Theory]
    [MemberData(nameof(Causes))]
    public void Cause_HasItsFindingsItsRepairAndEndsThere(Cause cause)
    {
        Assert.NotEmpty(FindingsOf.Cause(cause));
        var onset = Fleet.Start.AddDays(5);
        var fault = new InjectedFault(cause, onset, TimeSpan.Zero, 0.8, onset.AddDays(20));
        Assert.True(Enum.IsDefined(fault.Repair.Kind));
        Assert.Equal(FaultEffects.None, fault.AddTo(FaultEffects.None, onset.ToUnixTimeSeconds() - 1));
        Assert.NotEqual(FaultEffects.None, fault.AddTo(FaultEffects.None, onset.ToUnixTimeSeconds() + 1));
        if (cause != Cause.MeterReset)
        {
            Assert.Equal(FaultEffects.None, fault.AddTo(FaultEffects.None, onset.AddDays(20).ToUnixTimeSeconds()));
        }
    }

    [Fact]
    public void LargeFleet_GoesThroughEveryCauseAndHasItsRepairsOnRecord()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 100, Months = 6 });
        var faults = fleet.Plans.SelectMany(p => p.Faults.Select(f => (p.Truck.Id, Fault: f))).ToList();
        Assert.True(faults.Count >= 60, $"{faults.Count}");
        Assert.Equal(Injectable.Order(), faults.Select(f => f.Fault.Cause).Distinct().Order());
        Assert.InRange(fleet.Plans.Count(p => p.Faults.IsEmpty), 30, 60);
        Assert.Contains(fleet.PumpModels, m => m.Model == "Juniper 310");
        Assert.Contains(faults, f => f.Fault.Ends is not null);
    }

    [Fact]
    public void Repair_IsOnRecordOnTheDayItEnds()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 24, Months = 4 });
        var ended = fleet.Plans.SelectMany(p => p.Faults.Where(f => f.Ends is not null).Select(f => (p.Truck.Id, Fault: f))).ToList();
        Assert.NotEmpty(ended);
        foreach (var (truck, fault) in ended)
        {
            // Some are written up under the date of a day within the week after.
            Assert.Contains(fleet.ServiceRecords, r => r.Truck == truck && r.Kind == fault.Repair.Kind && r.At >= fault.Ends && r.At < fault.Ends.Value.AddDays(7));
        }
    }

    private static Seen Run(Cause? cause)
    {
        // A healthy truck in mid-life with every sensor but the oil level.
        var plan = Fleet.Plans[2];
        var onset = Fleet.Start.AddDays(-1);
        plan = plan with { Faults = cause is { } c ? [new InjectedFault(c, onset, TimeSpan.Zero, 0.8)] : [] };
        var simulation = Fleet.Simulate(plan);
        var readings = new List<Reading>();
        var all = new List<SignalValues>();
        var flows = new List<double>();
        simulation.CheckTimed = flows.Add;
        var wear = simulation.Pump.Wear;
        var loaded = 0.0;
        simulation.AfterRun = (kind, m3) => loaded += kind == RunKind.Load ? m3 : 0;
        for (var date = Fleet.Options.From; date <= Fleet.LastDay; date = date.AddDays(1))
        {
            readings.Clear();
            simulation.RunDay(date, readings, null);
            all.AddRange(readings.Select(r => plan.Sensors.ToCanonical(r.Values)));
        }

        var hours = simulation.Pump.EngagedS / 3600;
        double Values(Signal s, Func<IEnumerable<double>, double> by) => all.Count == 0 ? double.NaN : by(all.Select(v => v[(int)s]).Where(v => !double.IsNaN(v)));
        var rises = all.Where(v => v[(int)Signal.Pto] == 1 && !double.IsNaN(v[(int)Signal.PumpTemp])).Select(v => v[(int)Signal.PumpTemp] - v[(int)Signal.AmbientTemp]).ToList();
        return new Seen(
            simulation.Pump.Oil.FedL / hours,
            Values(Signal.PumpTemp, v => v.Max()),
            rises.Count == 0 ? double.NaN : rises.Average(),
            (simulation.Pump.Wear - wear) / hours,
            simulation.DeepestKPa,
            flows.Order().ElementAt(flows.Count / 2),
            loaded,
            all.Count,
            Values(Signal.PtoHours, v => v.Last()),
            Values(Signal.Vacuum, v => v.Max()));
    }

    private sealed record Seen(
        double OilPerH, double HottestC, double MeanRiseK, double WearPerH, double DeepestKPa, double CheckS, double LoadedM3, int Samples, double LastMeterH, double ShownKPa);
}
