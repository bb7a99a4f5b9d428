using Vanehour.Models.Planning;
using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Tests.Planning;

public class HistoryCostsTests
{
    private static readonly DateTimeOffset Start = new(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly PlanCosts Costs = new() { PlannedRebuild = 100, Tow = 300, LostJobs = 0, DamagedPump = 0, CleanUp = 0 };

    /// <summary>By hand: two rebuilt after a year of 500 h, one failed after two of 1 000 h: four years, 2 x 100 + 400.</summary>
    [Fact]
    public void SoFar_IsWhatWasSpentOverTheYears()
    {
        var table = new LifeTable([Life(500, 1, LifeEnding.Rebuilt), Life(500, 1, LifeEnding.Rebuilt), Life(1000, 2, LifeEnding.Failed)], []);
        var cost = Assert.Single(HistoryCosts.Of(table, Costs, 3));
        Assert.Equal(HistoryPolicy.SoFar, cost.Policy);
        Assert.Equal(4, cost.TruckYears, 9);
        Assert.Equal(0.5, cost.PlannedPerYear, 9);
        Assert.Equal(0.25, cost.FailuresPerYear, 9);
        Assert.Equal(150, cost.CostPerYear, 9);
    }

    [Fact]
    public void AgeReplacement_CostsNoMoreThanRunningToFailure_AndTheRatesAddUp()
    {
        double[] hours = [610, 720, 790, 840, 900, 960, 1010, 1090];
        var table = new LifeTable([.. hours.Select(h => Life(h, h / 500, LifeEnding.Failed)), Life(1000, 2, LifeEnding.Running) with { EntryH = 500 }], []);
        var costs = HistoryCosts.Of(table, Costs, 3);
        Assert.Equal([HistoryPolicy.SoFar, HistoryPolicy.RunToFailure, HistoryPolicy.AgeReplacement], costs.Select(c => c.Policy));
        Assert.True(costs[2].CostPerYear < costs[1].CostPerYear);
        Assert.True(costs[2].AgeH < 900);
        Assert.All(costs, c => Assert.Equal(c.CostPerYear, (100 * c.PlannedPerYear) + (400 * c.FailuresPerYear), 6));

        // 500 h a year, late entry counted from where records begin.
        Assert.Equal((hours.Sum() / 500) + 1, costs[0].TruckYears, 6);
    }

    private static PumpLife Life(double hours, double years, LifeEnding ending) => new()
    {
        Truck = "T",
        PumpSerial = "P",
        PumpModel = "Alder 400",
        FittedAt = Start,
        Until = Start.AddDays(365.25 * years),
        EntryH = 0,
        ExitH = hours,
        Ending = ending,
        EndedByMeasurement = false,
    };
}
