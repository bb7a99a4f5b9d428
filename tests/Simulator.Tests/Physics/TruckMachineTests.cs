using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Tests.Physics;

public class TruckMachineTests
{
    private const double AmbientKPa = 101.325;
    private static readonly PumpBuild Build = InventedPumpModels.Harrow310;
    private static readonly Surroundings Mild = new(20, AmbientKPa);

    // The gas is warmed at once, so the evacuation is isothermal as in the textbooks.
    private static readonly PumpTraits Average = new()
    {
        SpeedFactor = 1,
        FlowFactor = 1,
        VolumeFactor = 1,
        OilFactor = 1,
        HeatFactor = 1,
        ReliefOffsetKPa = 0,
        GasWarmingS = 1e-3,
    };

    private static readonly FaultEffects NoRelief = new() { ReliefShiftKPa = 100 };
    private static readonly Controls Draws = new() { Engaged = true, AskedSpeed = 1, Valve = ValvePosition.Vacuum };

    // t = (V/S) ln(p0/p1) [OHanlon, from memory]. The drive sags by up to 1.2 % and the pipe costs up to 0.4 kPa, both of which the textbook leaves out.
    [Theory]
    [InlineData(8, 20)]
    [InlineData(12, 40)]
    [InlineData(18, 60)]
    public void Evacuation_WithoutSlip_TakesTheTextbookTime(double tankM3, double vacuumKPa)
    {
        var machine = New(tankM3);
        machine.SlipRunFactor = 0;
        var seconds = SecondsTo(machine, vacuumKPa, NoRelief);
        var textbook = tankM3 / Build.Model.FreeAir.Si * Math.Log(AmbientKPa / (AmbientKPa - vacuumKPa));
        Assert.InRange(seconds / textbook, 1, 1.02);
    }

    // With the slip as it stood at the end, against the closed form that TankEvacuationTests check with textbook values.
    [Theory]
    [InlineData(0)]
    [InlineData(700)]
    [InlineData(1400)]
    public void Evacuation_FollowsTheClosedForm(double ageH)
    {
        var machine = New(12);
        machine.StartLife(1, ageH);
        var law = new SlipLaw(Build.Model.FlowKeptLimit, AmbientKPa);
        machine.Heat.CoreC = SlipLaw.ReferenceCoreC;
        var seconds = SecondsTo(machine, SlipLaw.ReferenceVacuumKPa, NoRelief);
        var tank = new TankEvacuation(AmbientKPa, Build.Model.FreeAir.Si, Build.Model.FreeAir.Si * law.Share(machine.Wear), 12);
        Assert.Equal(1, seconds / tank.SecondsTo(0, SlipLaw.ReferenceVacuumKPa), 0.02);
    }

    [Theory]
    [InlineData(0, 101.325)]
    [InlineData(1000, 101.325)]
    [InlineData(1000, 83.4)]
    public void Ultimate_IsWhereFlowAndSlipBalance(double ageH, double ambient)
    {
        var machine = new TruckMachine(Build, Average, 12, ambient);
        machine.StartLife(1, ageH);
        for (var i = 0; i < 3000; i++)
        {
            machine.Advance(1, Draws, new(20, ambient), NoRelief);
        }

        var inside = ambient - machine.VacuumKPa;
        var law = new SlipLaw(Build.Model.FlowKeptLimit, ambient);
        var slip = law.Share(machine.Wear) * law.Change(machine.Heat.CoreC, ambient / inside);
        Assert.Equal(ambient * machine.Speed / (machine.Speed + slip), machine.VacuumKPa, 0.05);
    }

    [Fact]
    public void FlowKept_FallsFromOneToTheModelsLimitAsWearGoesToOne()
    {
        var machine = New(12);
        Assert.Equal(1, machine.FlowKept(), 1e-12);
        machine.StartLife(1, VaneWearLaw.HoursTo(1, Build.VaneLifeH));
        Assert.Equal(Build.Model.FlowKeptLimit, machine.FlowKept(), 1e-6);
    }

    [Fact]
    public void Relief_HoldsTheVacuumAtItsSetting()
    {
        var machine = New(10);
        Go(machine, 300, Draws, FaultEffects.None);
        Assert.Equal(Build.Model.ReliefVacuum!.Value.Kilopascals, machine.VacuumKPa, 0.6);

        var low = New(10);
        Go(low, 300, Draws, new FaultEffects { ReliefShiftKPa = -8 });
        Assert.Equal(machine.VacuumKPa - 8, low.VacuumKPa, 0.6);
    }

    [Fact]
    public void ReliefValve_CracksThenStaysOpenDownToItsReseatingPoint()
    {
        var valve = new ReliefValve();
        valve.Set(59.9, 60);
        Assert.False(valve.IsOpen);
        valve.Set(60.1, 60);
        Assert.True(valve.IsOpen);
        valve.Set(60 - (0.9 * ReliefValve.ReseatBelowKPa), 60);
        Assert.True(valve.IsOpen);
        valve.Set(60 - (1.1 * ReliefValve.ReseatBelowKPa), 60);
        Assert.False(valve.IsOpen);
    }

    [Fact]
    public void Pressure_RisesToItsReliefAndEmptiesTheTank()
    {
        var machine = New(12);
        machine.LeaveLiquid(0.7);
        var presses = new Controls { Engaged = true, AskedSpeed = 1, Valve = ValvePosition.Pressure };
        Go(machine, 200, presses, FaultEffects.None);
        Assert.Equal(Build.Model.ReliefPressure!.Value.Kilopascals, machine.PressureKPa, 1.5);
        Assert.Equal(0, machine.VacuumKPa);

        Go(machine, 900, presses with { LiquidM3PerS = 0.01, LiquidAtKPa = 80 }, FaultEffects.None);
        Assert.Equal(0, machine.LiquidM3, 1e-9);
    }

    [Fact]
    public void Loading_FillsTheTankAndShrinksItsGas()
    {
        var machine = New(12);
        Go(machine, 120, Draws, FaultEffects.None);
        var loads = Draws with { LiquidM3PerS = 0.008, LiquidAtKPa = 45, HoseAirM3PerS = machine.HoseAirForVacuum(45, 0.008, 1, Mild) };
        Go(machine, 700, loads, FaultEffects.None);
        Assert.InRange(machine.LiquidM3, 4.8, 6.4);
        Assert.Equal(45, machine.VacuumKPa, 3.0);

        // A part-full tank is pumped down faster in the measure of its gas.
        var part = New(12);
        part.LeaveLiquid(0.5);
        Assert.Equal(0.5, SecondsTo(part, 40, FaultEffects.None) / SecondsTo(New(12), 40, FaultEffects.None), 0.01);
    }

    [Fact]
    public void Float_ShutsATankThatIsFull_AndEarlyWhereItSticks()
    {
        foreach (var (effects, share) in new[] { (FaultEffects.None, 0.97), (new FaultEffects { FloatClosesAt = 0.5 }, 0.5) })
        {
            var machine = New(12);
            Go(machine, 120, Draws, effects);
            Go(machine, 4000, Draws with { LiquidM3PerS = 0.008, LiquidAtKPa = 45, HoseAirM3PerS = 0.02 }, effects);
            Assert.True(machine.FloatShut);
            Assert.InRange(machine.LiquidShare, share, 1);
        }
    }

    [Fact]
    public void Gas_IsConserved()
    {
        var machine = New(12, Average with { GasWarmingS = 1e9 });
        var before = machine.GasKPaM3;
        Go(machine, 300, Draws with { HoseAirM3PerS = 0.01 }, new FaultEffects { LeakShare = 0.05, ReliefShiftKPa = 100 });
        var moved = machine.PumpedKPaM3;
        Assert.True(moved > 0.5 * before);
        Assert.Equal(before - moved + machine.LetInKPaM3, machine.GasKPaM3, 0.01 * moved);
    }

    // Cold gas takes less room: the gauge runs ahead of the same tank with gas that is warmed at once.
    [Fact]
    public void Gas_CoolsWhileItExpands()
    {
        var cold = New(12, Average with { GasWarmingS = 40 });
        var warm = New(12);
        Go(cold, 60, Draws, NoRelief);
        Go(warm, 60, Draws, NoRelief);
        Assert.True(cold.VacuumKPa > warm.VacuumKPa + 0.5);
    }

    [Fact]
    public void Leak_SlowsTheTankAlone_AndAChokedPipeSlowsTheFlow()
    {
        var healthy = SecondsTo(New(12), 40, NoRelief);
        double Closed(double share) => new TankEvacuation(AmbientKPa, 1, share, 1).SecondsTo(0, 40);
        Assert.Equal(Closed(SlipLaw.NewShare + 0.1) / Closed(SlipLaw.NewShare), SecondsTo(New(12), 40, NoRelief with { LeakShare = 0.1 }) / healthy, 0.005);
        Assert.True(SecondsTo(New(12), 40, NoRelief with { InletDropKPa = 12 }) > 1.05 * healthy);

        // A lining that the flow sucks shut throttles at high flow only: the first part of a pump-down suffers most.
        double Part(FaultEffects effects, double from, double to) => SecondsTo(New(12), to, effects) - SecondsTo(New(12), from, effects);
        var soft = NoRelief with { SoftInletDropKPa = 25 };
        Assert.True(Part(soft, 0, 15) / Part(NoRelief, 0, 15) > 1.02 + (Part(soft, 45, 60) / Part(NoRelief, 45, 60)) - 1);
    }

    [Fact]
    public void OilFed_IsWhatLeftTheReservoirPlusWhatWasFilled_AndGoesToSeparatorOrAway()
    {
        var machine = New(12);
        for (var hour = 0; hour < 60; hour++)
        {
            Go(machine, 3600, Draws, FaultEffects.None, step: 10);
            if (hour % 4 == 3)
            {
                machine.Oil.Fill();
                machine.Oil.DrainSeparator();
            }
        }

        Assert.Equal(machine.Oil.FilledL + OilSystem.ReservoirL - machine.Oil.LevelL, machine.Oil.FedL, 1e-9);
        Assert.Equal(machine.Oil.FedL, machine.Oil.SeparatorL + machine.Oil.GoneL, 1e-9);
        Assert.True(machine.Oil.FilledL > 10);
    }

    [Fact]
    public void OilFed_EndsWithTheReservoir()
    {
        var machine = New(12);
        Go(machine, 200 * 3600, Draws, FaultEffects.None, step: 10);
        Assert.Equal(0, machine.Oil.LevelL);
        Assert.Equal(OilSystem.ReservoirL, machine.Oil.FedL, 1e-9);
    }

    [Fact]
    public void OilFed_InHealthIsAboutTheMakersRate()
    {
        var machine = New(12);
        Go(machine, 3600, Draws with { HoseAirM3PerS = 0.04 }, FaultEffects.None);
        var rated = Build.Model.OilRate!.Value.LitresPerHour;
        Assert.Equal(rated, machine.Oil.FedL, 0.1 * rated);
    }

    [Fact]
    public void ShortOil_HeatsAndWearsFaster()
    {
        var healthy = New(12);
        var starved = New(12);
        var works = Draws with { HoseAirM3PerS = healthy.HoseAirForVacuum(45, 0, 1, Mild) };
        Go(healthy, 10 * 3600, works, FaultEffects.None);
        Go(starved, 10 * 3600, works, new FaultEffects { OilFeedFactor = 0.45 });
        Assert.True(starved.Heat.HousingC > healthy.Heat.HousingC + 8);
        Assert.InRange(starved.Wear / healthy.Wear, 2.2, 4.5);
        Assert.Equal(1, healthy.WearStress);
    }

    [Fact]
    public void CarryOver_CoolsFirst_AndThinsTheOilLater()
    {
        var dry = New(12);
        var wet = New(12);
        var loads = Draws with { LiquidM3PerS = 1e-4, LiquidAtKPa = 45, HoseAirM3PerS = dry.HoseAirForVacuum(45, 0, 1, Mild) };
        var effects = new FaultEffects { CarryOver = 0.8 };
        Go(dry, 1800, loads, FaultEffects.None);
        Go(wet, 1800, loads, effects);
        Assert.True(wet.Heat.HousingC < dry.Heat.HousingC - 5);
        Go(wet, 2 * 3600, loads, effects);
        Assert.True(wet.WearStress > 1.3);
    }

    [Fact]
    public void StartLife_AtAnAgeIsWornAsIfItHadRunThatLong()
    {
        var aged = New(12);
        aged.StartLife(1.1, 400);
        var run = New(12);
        run.StartLife(1.1);

        // The load at which wear goes at the model's rate.
        var works = Draws with { HoseAirM3PerS = run.HoseAirForVacuum(Build.UsualLoadKPa, 0, 1, Mild) };
        for (var hour = 0; hour < 400; hour++)
        {
            Go(run, 3600, works, FaultEffects.None, step: 10);
            run.Oil.Fill();
        }

        Assert.Equal(run.HoursSinceFitting, aged.HoursSinceFitting, 1e-6);
        Assert.Equal(1, run.Wear / aged.Wear, 0.05);
    }

    [Fact]
    public void HealthyLife_EndsAtWearOne()
    {
        var machine = New(12);
        machine.StartLife(1.2, VaneWearLaw.HoursTo(1, Build.VaneLifeH / 1.2));
        Assert.Equal(1, machine.Wear, 1e-6);
    }

    [Fact]
    public void LongSteps_GiveTheSameRunWithinAPercent()
    {
        var fine = New(12);
        var coarse = New(12);
        var works = Draws with { HoseAirM3PerS = fine.HoseAirForVacuum(45, 0.004, 1, Mild), LiquidM3PerS = 0.004, LiquidAtKPa = 45 };
        Go(fine, 1200, works, FaultEffects.None);
        Go(coarse, 1200, works, FaultEffects.None, step: 10);
        Assert.Equal(1, coarse.Wear / fine.Wear, 0.01);
        Assert.Equal(fine.VacuumKPa, coarse.VacuumKPa, 0.5);
        Assert.Equal(fine.Heat.HousingC, coarse.Heat.HousingC, 0.5);
        Assert.Equal(1, coarse.LiquidM3 / fine.LiquidM3, 0.02);
    }

    [Fact]
    public void Clone_GoesItsOwnWay()
    {
        var machine = New(12);
        Go(machine, 100, Draws, FaultEffects.None);
        var copy = machine.Clone();
        Go(copy, 500, Draws, FaultEffects.None);
        var again = machine.Clone();
        Go(again, 500, Draws, FaultEffects.None);
        Assert.Equal(100, machine.EngagedS);
        Assert.Equal((copy.Wear, copy.VacuumKPa, copy.Oil.FedL, copy.Heat.HousingC), (again.Wear, again.VacuumKPa, again.Oil.FedL, again.Heat.HousingC));
        Assert.NotEqual(machine.Heat.HousingC, copy.Heat.HousingC);
    }

    private static TruckMachine New(double tankM3, PumpTraits? traits = null)
    {
        var machine = new TruckMachine(Build, traits ?? Average, tankM3, AmbientKPa);
        machine.Heat.CoreC = machine.Heat.HousingC = Mild.AmbientC;
        return machine;
    }

    private static void Go(TruckMachine machine, int seconds, Controls controls, FaultEffects effects, int step = 1, Surroundings? air = null)
    {
        for (var left = seconds; left > 0; left -= step)
        {
            machine.Advance(Math.Min(step, left), controls, air ?? Mild, effects);
        }
    }

    // By the tank, not by the gauge beside the pump, which shows what the pipe costs as well.
    private static double SecondsTo(TruckMachine machine, double vacuumKPa, FaultEffects effects)
    {
        for (var seconds = 1; seconds < 4000; seconds++)
        {
            var before = machine.TankVacuumKPa;
            machine.Advance(1, Draws, Mild, effects);
            if (machine.TankVacuumKPa >= vacuumKPa)
            {
                return seconds - 1 + ((vacuumKPa - before) / (machine.TankVacuumKPa - before));
            }
        }

        return double.PositiveInfinity;
    }
}
