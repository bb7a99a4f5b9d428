using Vanehour.Fleet;
using Vanehour.Scoring.Drills;

namespace Vanehour.Simulator.Tests.Drills;

/// <summary>Case and seed make the drill.</summary>
public sealed class DrillFleetTests
{
    [Fact]
    public void TheSameCaseAndSeed_GiveTheSameDrill_AndOtherSeedsOthers()
    {
        var @case = DrillCases.Default.Find("tank-leak")!;
        Assert.Equal(Of(5), Of(5));
        var drawn = Enumerable.Range(1, 60).Select(s => Of(s)).ToList();
        Assert.Equal(@case.Trucks.Length, drawn.Select(d => d.Truck).Distinct().Count());
        Assert.True(drawn.Select(d => d.Onset).Distinct().Count() > 5);
        Assert.All(drawn, d =>
        {
            Assert.InRange(d.Severity!.Value, @case.Severity[0], @case.Severity[1]);
            Assert.InRange((d.End - d.Onset!.Value).TotalDays, @case.BeganDaysBeforeEnd[0], @case.BeganDaysBeforeEnd[1] + 1);
        });

        (string Truck, DateTimeOffset? Onset, double? Severity, DateTimeOffset End) Of(long seed)
        {
            var drill = DrillFleet.Of(@case, seed);
            return (drill.Truck, drill.Onset, drill.Severity, drill.Fleet.End);
        }
    }

    [Fact]
    public void EveryDrillEndsOnTheSameDay() =>
        Assert.All(DrillCases.Default.Cases, c => Assert.Equal(new DateOnly(2025, 10, 6), DateOnly.FromDateTime(DrillFleet.Of(c, 3).Fleet.End.UtcDateTime)));

    [Fact]
    public void APlantedFault_ChangesItsTruck_AndNoOther()
    {
        var healthy = new SimulationOptions { Trucks = 3, Months = 1, Seed = 4, Faults = FaultScenario.None };
        var fleets = (Without: SimulatedFleet.Create(healthy), With: SimulatedFleet.Create(healthy with { Planted = new PlantedFault(1, Cause.LeakTankSide, 10, 0, 0.6) }));
        Assert.Equal(fleets.Without.Samples("T01"), fleets.With.Samples("T01"));
        Assert.Equal(fleets.Without.Samples("T03"), fleets.With.Samples("T03"));
        Assert.NotEqual(fleets.Without.Samples("T02"), fleets.With.Samples("T02"));

        // Up to the day on which it begins, the truck is the same too.
        var until = fleets.With.Start.AddDays(10).ToUnixTimeMilliseconds();
        Assert.Equal(fleets.Without.Samples("T02").TakeWhile(s => s.UnixMs < until), fleets.With.Samples("T02").TakeWhile(s => s.UnixMs < until));
        var fault = Assert.Single(fleets.With.Truth().Faults, f => f.Fault != Cause.VanesWorn);
        Assert.Equal(("T02", Cause.LeakTankSide, 0.6), (fault.Truck, fault.Fault, fault.Severity));
    }

    [Theory]
    [InlineData(FaultScenario.Default, 1, 10, 0.5)]
    [InlineData(FaultScenario.None, 3, 10, 0.5)]
    [InlineData(FaultScenario.None, -1, 10, 0.5)]
    [InlineData(FaultScenario.None, 1, 31, 0.5)]
    [InlineData(FaultScenario.None, 1, 10, 0)]
    [InlineData(FaultScenario.None, 1, 10, double.NaN)]
    public void APlantedFaultThatCannotBe_IsRefused(FaultScenario faults, int truck, int onset, double severity) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SimulatedFleet.Create(
            new SimulationOptions { Trucks = 3, Months = 1, Faults = faults, Planted = new PlantedFault(truck, Cause.OilLeak, onset, 0, severity) }));
}
