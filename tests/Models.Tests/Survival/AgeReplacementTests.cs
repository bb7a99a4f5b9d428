using Vanehour.Models.Survival;

namespace Vanehour.Models.Tests.Survival;

public sealed class AgeReplacementTests
{
    [Theory]
    [InlineData(1.0001)]
    [InlineData(1.0005)]
    [InlineData(1.01)]
    public void ShapeHardlyAboveOne_WaitsForTheFailure(double shape)
    {
        var best = AgeReplacement.Best(shape, 1000, 1, 4);
        Assert.Null(best.Age);
        Assert.Equal(0, best.Saving);
        Assert.Equal(4.0 / 1000, best.CostRate, 4);
    }

    [Fact]
    public void ShapeWellAboveOne_DoesNot()
    {
        var best = AgeReplacement.Best(3, 1000, 1, 4);
        Assert.InRange(best.Age!.Value, 400, 800);
        Assert.InRange(best.Saving, 0.2, 0.6);
    }
}
