using MathNet.Numerics.Distributions;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Tests.Comparing;

public sealed class CostComparerTests
{
    [Fact]
    public void Cost_WorkedByHand()
    {
        // A failure at 4, a rebuild at 1, over 1000 + 1500 + (700 - 200) + 500 hours; what was taken off in working order costs nothing.
        PumpLife[] lives =
        [
            Made.Life("T1", "A", 1000, LifeEnding.Failed), Made.Life("T1", "A", 1500, LifeEnding.Rebuilt),
            Made.Life("T2", "A", 700, LifeEnding.Running, 200), Made.Life("T3", "A", 500, LifeEnding.Removed),
        ];
        var cost = Cost(lives);
        Assert.Equal((3, 3500.0), (cost.Trucks, cost.HoursH));
        Assert.Equal(5.0 / 3500, cost.PerHour!.Mid!.Value, 12);
        Assert.Null(cost.PerHour.Low);
        Assert.Null(cost.BestPerHour);
        Assert.Contains("3 trucks with 2 rebuilds and failures: too few for limits of the cost per hour; it takes 5 trucks and 3 of those.", cost.Remarks);
        Assert.Equal(9000 * 3.0 / 3500, Cost(lives, new LifeOptions { PlannedRebuildCost = 9000, FailureCostRatio = 2 }).PerHour!.Mid!.Value, 9);
    }

    [Fact]
    public void CostAtBest_IsThatOfAgeReplacement()
    {
        var lives = new[] { 700.0, 900, 1000, 1100, 1300, 800, 950 }.Select((h, i) => Made.Life($"T{i}", "A", h, LifeEnding.Failed)).ToArray();
        var fit = WeibullFit.Fit([.. lives.Select(l => l.Lifetime)]);
        var cost = Cost(lives, new LifeOptions { PlannedRebuildCost = 100 });
        var best = AgeReplacement.Best(fit.Shape, fit.Scale, 100, 400);
        Assert.Equal(best.CostRate, cost.BestPerHour!.Value, 9);
        Assert.Equal(2800 / 6750.0, cost.PerHour!.Mid!.Value, 12);
        Assert.True(cost.PerHour.Low < cost.PerHour.Mid && cost.PerHour.Mid < cost.PerHour.High);
        Assert.Contains(cost.Remarks, r => r.StartsWith("Rebuilt at ", StringComparison.Ordinal));
        Assert.Equal(cost.PerHour, Cost(lives, new LifeOptions { PlannedRebuildCost = 100 }).PerHour);
    }

    [Fact]
    public void Limits_OfTwelveTrucks_AreALittleTooNarrow_NotMore()
    {
        // Failures at random, one in 1000 h, trucks watched for 2000 to 6000 h: the truth is 4/1000. 400 fleets; of percentiles of twelve trucks nine in ten is what can be had.
        var random = new Random(61);
        var held = Enumerable.Range(0, 400).Count(_ =>
        {
            var lives = new List<PumpLife>();
            for (var truck = 0; truck < 12; truck++)
            {
                var left = 2000 + (4000 * random.NextDouble());
                while (left > 0)
                {
                    var life = Exponential.Sample(random, 0.001);
                    lives.Add(Made.Life($"T{truck}", "A", Math.Min(life, left), life < left ? LifeEnding.Failed : LifeEnding.Running));
                    left -= life;
                }
            }

            var cost = Cost([.. lives]).PerHour!;
            return cost.Low <= 0.004 && cost.High >= 0.004;
        });
        Assert.InRange(held, 345, 388);
    }

    [Fact]
    public void WithoutLives_ThereIsNoCost()
    {
        var table = new LifeTable([], [new LifeProblem("T1", "P", "A", DateTimeOffset.UnixEpoch, "it ended without a PTO hour on the meter")]);
        var cost = Assert.Single(new CostComparer(new LifeOptions()).Compare(new LifeStudy(new LifeOptions()).Of(table), table));
        Assert.Equal((0, null), (cost.Trucks, cost.PerHour));
        Assert.Contains("No hours under observation, so no cost per hour.", cost.Remarks);
    }

    private static ModelCost Cost(PumpLife[] lives, LifeOptions? options = null)
    {
        var table = new LifeTable([.. lives], []);
        return Assert.Single(new CostComparer(options ?? new LifeOptions()).Compare(new LifeStudy(options ?? new LifeOptions()).Of(table), table));
    }
}
