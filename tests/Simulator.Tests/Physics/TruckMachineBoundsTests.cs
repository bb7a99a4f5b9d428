using FsCheck.Xunit;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Tests.Physics;

public class TruckMachineBoundsTests
{
    // Found by the property below: a load at which a slipping coupling turned the pump backwards, and the vanes grew.
    [Fact]
    public void NothingLeavesPhysicalBounds_WhereACouplingSlipsMost() => NothingLeavesPhysicalBounds(13);

    // Whatever the crew does and whatever is wrong: nothing leaves what is physically possible.
    [Property(MaxTest = 60)]
    public void NothingLeavesPhysicalBounds(ulong seed)
    {
        var random = new SeededRandom(seed);
        var ambient = random.Uniform(70, 104);
        var build = InventedPumpModels.Usual[random.Whole(0, 2)];
        var traits = new PumpTraits
        {
            SpeedFactor = random.Uniform(0.95, 1.05),
            FlowFactor = random.Factor(PumpTraits.FlowSd),
            VolumeFactor = random.Factor(0.03),
            OilFactor = random.Factor(PumpTraits.OilSd),
            HeatFactor = random.Factor(PumpTraits.HeatSd),
            ReliefOffsetKPa = random.Uniform(-1.5, 1.5),
            GasWarmingS = random.Uniform(20, 60),
        };
        var machine = new TruckMachine(build, traits, random.Uniform(4, 22), ambient);

        // Pumps fail at a wear of 1.2 to 1.5.
        machine.StartLife(1, random.Uniform(0, VaneWearLaw.HoursTo(1.4, build.VaneLifeH)));
        var air = new Surroundings(random.Uniform(-30, 45), ambient);
        machine.Heat.CoreC = machine.Heat.HousingC = air.AmbientC;
        for (var stretch = 0; stretch < 60; stretch++)
        {
            var effects = new FaultEffects
            {
                OilFeedFactor = random.Uniform(0, 2),
                OilLeakShare = random.Uniform(0, 1),
                OilQuality = random.Uniform(0.4, 1),
                CarryOver = random.Uniform(0, 1),
                InletDropKPa = random.Uniform(0, 18),
                SoftInletDropKPa = random.Uniform(0, 35),
                DischargeDropKPa = random.Uniform(0, 60),
                LeakShare = random.Uniform(0, 0.15),
                ReliefShiftKPa = random.Uniform(-12, 40),
                FloatClosesAt = random.Uniform(0.2, 0.97),
                StickingShare = random.Uniform(0, 0.6),
                SpeedFactor = random.Uniform(0.7, 1.3),
                CouplingSlip = random.Uniform(0, 0.3),
                CoolingFactor = random.Uniform(0.6, 1),
                FrictionFactor = random.Uniform(1, 1.4),
            };
            var controls = new Controls
            {
                Engaged = random.Chance(0.85),
                AskedSpeed = random.Uniform(0.6, 1.05),
                Valve = (ValvePosition)random.Whole(0, 2),
                HoseAirM3PerS = random.Chance(0.5) ? random.Uniform(0, 0.3) : 0,
                LiquidM3PerS = random.Chance(0.5) ? random.Uniform(0, 0.02) : 0,
                LiquidAtKPa = random.Uniform(15, 60),
                Bleeds = random.Chance(0.2),
            };
            if (random.Chance(0.1))
            {
                machine.Oil.Fill();
            }

            if (machine.Wear > 1.6)
            {
                machine.StartLife(1);
            }

            var wear = machine.Wear;
            var step = random.Chance(0.2) ? 10 : 1;
            for (var left = random.Whole(1, 900); left > 0; left -= step)
            {
                machine.Advance(Math.Min(step, left), controls, air, effects);
            }

            Assert.InRange(machine.VacuumKPa, 0, 0.99 * ambient);
            Assert.InRange(machine.PressureKPa, 0, 200);
            Assert.InRange(machine.LiquidShare, 0, 0.99);
            Assert.InRange(machine.Speed, 0, 1.4);
            Assert.InRange(machine.Heat.HousingC, air.AmbientC - 60, 260);
            Assert.InRange(machine.Heat.CoreC, air.AmbientC - 60, 350);
            Assert.InRange(machine.Oil.LevelL, 0, OilSystem.ReservoirL);
            Assert.InRange(machine.Oil.Film, 0, 1.1);
            Assert.InRange(machine.WearStress, 1, 30);
            Assert.True(machine.Wear >= wear && double.IsFinite(machine.Wear));
        }
    }
}
