using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.Regression;

public sealed class RobustTests
{
    [Fact]
    public void Median_WorkedByHand()
    {
        Assert.Equal(3, Robust.Median([5, 1, 3]));
        Assert.Equal(2, Robust.Median([5, 1, 3, 1]));
        Assert.Throws<ArgumentException>(() => Robust.Median([]));
    }

    [Fact]
    public void WeightedMedian_WorkedByHand()
    {
        Assert.Equal(1, Robust.WeightedMedian([(1, 3), (2, 1), (9, 1)]));
        Assert.Equal(2, Robust.WeightedMedian([(1, 1), (2, 1), (9, 1)]));
        Assert.Throws<ArgumentException>(() => Robust.WeightedMedian([]));
    }

    [Fact]
    public void Spread_WorkedByHand() => Assert.Equal(1.482602218505602, Robust.Spread([1, 2, 3, 4, 100]), 12);

    [Fact]
    public void HuberWeight_IsOneInsideAndFallsOutside()
    {
        Assert.Equal(1, Robust.HuberWeight(1.3, 1));
        Assert.Equal(0.5, Robust.HuberWeight(-2.69, 1), 12);
        Assert.Equal(1, Robust.HuberWeight(5, 0));
    }
}
