using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Tests.Physics;

public class PumpConditionTests
{
    private static readonly PumpTraits Average = new()
    {
        SpeedFactor = 1,
        FlowFactor = 1,
        VolumeFactor = 1,
        OilFactor = 1,
        HeatFactor = 1,
        ReliefOffsetKPa = 0,
    };

    private static readonly PumpLoad Working = new(true, 1, 45, 0);

    [Fact]
    public void Warming_ReachesOneMinusOneOverEAfterTheTimeConstant()
    {
        var pump = NewPump();
        pump.PumpTempC = 20;
        pump.Advance(PumpCondition.WarmingTimeConstantS, Working, 20, FaultEffects.None);
        var afterOne = pump.PumpTempC - 20;
        for (var i = 0; i < 20; i++)
        {
            pump.Advance(PumpCondition.WarmingTimeConstantS, Working, 20, FaultEffects.None);
        }

        // Wear heats the pump by 8 % on the way from 0 to 1; eight hours of it move the rise by less than 0.2 %.
        Assert.Equal(1 - Math.Exp(-1), afterOne / (pump.PumpTempC - 20), 2e-3);
        Assert.InRange(pump.PumpTempC - 20, 45, 70);
    }

    [Fact]
    public void Cooling_FallsToOneOverEOfTheRise()
    {
        var pump = NewPump();
        pump.PumpTempC = 80;
        pump.Advance(PumpCondition.CoolingTimeConstantS, PumpLoad.Off, 20, FaultEffects.None);
        Assert.Equal(20 + (60 * Math.Exp(-1)), pump.PumpTempC, 1e-9);
    }

    [Fact]
    public void OilFed_IsWhatLeftTheReservoirPlusWhatWasFilled()
    {
        var pump = NewPump();
        for (var hour = 0; hour < 60; hour++)
        {
            pump.Advance(3600, Working, 20, FaultEffects.None);
            if (hour % 4 == 3)
            {
                pump.FillOil();
            }
        }

        Assert.Equal(pump.OilFilledL + PumpCondition.ReservoirL - pump.OilLevelL, pump.OilFedL, 1e-9);
        Assert.True(pump.OilFilledL > 10);
    }

    [Fact]
    public void OilFed_EndsWithTheReservoir()
    {
        var pump = NewPump();
        for (var hour = 0; hour < 200; hour++)
        {
            pump.Advance(3600, Working, 20, FaultEffects.None);
        }

        Assert.Equal(0, pump.OilLevelL);
        Assert.Equal(PumpCondition.ReservoirL, pump.OilFedL, 1e-9);
    }

    [Fact]
    public void OilFed_InHealthIsAboutTheMakersRate()
    {
        var pump = NewPump();
        pump.PumpTempC = 75;
        pump.Advance(3600, Working, 20, FaultEffects.None);
        var rated = InventedPumpModels.Harrow310.Model.OilRate!.Value.LitresPerHour;
        Assert.Equal(rated, pump.OilFedL, 0.03 * rated);
    }

    [Fact]
    public void ShortOil_HeatsAndWearsFaster()
    {
        var healthy = NewPump();
        var starved = NewPump();
        for (var hour = 0; hour < 10; hour++)
        {
            healthy.Advance(3600, Working, 20, FaultEffects.None);
            starved.Advance(3600, Working, 20, FaultEffects.None with { OilFeedFactor = 0.5 });
        }

        Assert.True(starved.PumpTempC > healthy.PumpTempC + 8);
        Assert.InRange(starved.Wear / healthy.Wear, 2.5, 3.5);
        Assert.Equal(1, healthy.WearStress);
    }

    [Fact]
    public void StartLife_AtAnAgeIsWornAsIfItHadRunThatLong()
    {
        var aged = NewPump();
        aged.StartLife(1.1, 400);
        var run = NewPump();
        run.StartLife(1.1);
        for (var i = 0; i < 4000; i++)
        {
            run.Advance(360, Working, 20, FaultEffects.None);
        }

        Assert.Equal(run.HoursSinceFitting, aged.HoursSinceFitting, 1e-6);

        // Break-in is taken at the start of each of the 0.1 h steps.
        Assert.Equal(run.Wear, aged.Wear, 1e-4);
    }

    [Fact]
    public void HealthyLife_EndsAtWearOne()
    {
        var pump = NewPump();
        pump.StartLife(1.2, PumpCondition.HealthyLifeH(InventedPumpModels.Harrow310, 1.2));
        Assert.Equal(1, pump.Wear, 1e-6);
    }

    private static PumpCondition NewPump() => new(InventedPumpModels.Harrow310, Average);
}
