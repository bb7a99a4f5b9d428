namespace Vanehour.Simulator.Tests.Scenario;

public class SimulationOptionsTests
{
    public static TheoryData<SimulationOptions> Wrong() =>
    [
        new SimulationOptions { Trucks = 0 },
        new SimulationOptions { Trucks = 1001 },
        new SimulationOptions { Months = 0 },
        new SimulationOptions { Months = 121 },
        new SimulationOptions { From = new DateOnly(1999, 12, 31) },
        new SimulationOptions { SteadyIntervalS = 9 },
        new SimulationOptions { PumpDownIntervalS = 0 },
        new SimulationOptions { SlowIntervalS = 20 },
        new SimulationOptions { IdleIntervalMin = 4 },
        new SimulationOptions { PackInstants = 0 },
        new SimulationOptions { Dirt = -0.1 },
        new SimulationOptions { Dirt = 3.1 },
        new SimulationOptions { Dirt = double.NaN },
        new SimulationOptions { Faults = (FaultScenario)9 },
    ];

    [Theory]
    [MemberData(nameof(Wrong))]
    public void Create_RefusesWhatIsOutOfRange(SimulationOptions options) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SimulatedFleet.Create(options));

    [Fact]
    public void Defaults_AreTheDemonstration()
    {
        var options = new SimulationOptions();
        Assert.Equal((12, 6, 1L, new DateOnly(2026, 1, 5)), (options.Trucks, options.Months, options.Seed, options.From));
        options.Validate();
    }
}
