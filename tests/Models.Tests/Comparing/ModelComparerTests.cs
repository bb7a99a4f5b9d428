using Vanehour.Models.Comparing;
using Vanehour.Models.Indicators;
using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Tests.Comparing;

public sealed class ModelComparerTests
{
    [Fact]
    public void EveryMeasure_HasEveryModel_InOneOrder()
    {
        var table = new LifeTable([Made.Life("B-0", "B", 900, LifeEnding.Running), Made.Life("A-0", "A", 800, LifeEnding.Failed), Made.Life("C-0", "C", 10, LifeEnding.Running)], []);
        var comparison = new ModelComparer(new LifeOptions(), new ExpectationOptions()).Compare(table, Made.Pumps("A", [1, 1, 1], 1), [Made.Forecast("B-0", "B", 0.4, 0.1)]);
        string[] names = ["A", "B", "C"];
        Assert.Equal(names, comparison.Lives.Models.Select(m => m.PumpModel));
        Assert.Equal(names, comparison.Oil.Models.Select(m => m.PumpModel));
        Assert.Equal(names, comparison.Wear!.Models.Select(m => m.PumpModel));
        Assert.Equal(names, comparison.Costs.Select(m => m.PumpModel));
        Assert.Equal(names, comparison.Curves.Select(m => m.PumpModel));
        Assert.Equal(comparison.Lives.Pairs.Select(p => (p.A, p.B)), comparison.Oil.Pairs.Select(p => (p.A, p.B)));
        Assert.Equal([3, 0, 0], comparison.Oil.Models.Select(m => m.Pumps));
        Assert.Null(new ModelComparer(new LifeOptions(), new ExpectationOptions()).Compare(table, [], null).Wear);
        Assert.Empty(new ModelComparer(new LifeOptions(), new ExpectationOptions()).Compare(new LifeTable([], []), [], []).Curves);
    }

    [Fact]
    public void Curve_SaysWhoIsAtRisk_AndWhatShareLasts()
    {
        var table = new LifeTable(
            [Made.Life("1", "A", 400, LifeEnding.Failed), Made.Life("2", "A", 600, LifeEnding.Running), Made.Life("3", "A", 800, LifeEnding.Failed, 500), Made.Life("4", "A", 900, LifeEnding.Rebuilt)], []);
        var curve = Assert.Single(new ModelComparer(new LifeOptions(), new ExpectationOptions()).Compare(table, [], null).Curves);
        Assert.Equal(900, curve.LongestH);

        // One enters late, at 500; at 400 one of three fails, at 800 one of two.
        Assert.Equal([3, 2, 3, 2, 1, 0], new[] { 0.0, 400, 500, 600, 800, 900 }.Select(curve.AtRisk));
        Assert.Equal([1, 2.0 / 3, 2.0 / 3, 1.0 / 3], new[] { 399.0, 400, 799, 800 }.Select(curve.SurvivalAt).Select(s => Math.Round(s, 12)), (x, y) => Math.Abs(x - y) < 1e-9);
    }
}
