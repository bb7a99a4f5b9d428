using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class EarlyCurveTests
{
    [Theory]
    [InlineData(0, 0, 0, 100)]
    [InlineData(40, 60, 0, 5)]
    [InlineData(40, 60, 0, 500)]
    [InlineData(80, 40, 30, 1)]
    [InlineData(80, 40, 700, 300)]
    [InlineData(20, 100, 50, 0)]
    public void HoursFor_IsTheInverse(double extraH, double fadesH, double fromH, double hoursH)
    {
        var curve = new EarlyCurve(extraH, fadesH);
        Assert.Equal(hoursH, curve.HoursFor(fromH, curve.WornH(fromH + hoursH) - curve.WornH(fromH)), 0.02);
    }

    [Fact]
    public void WornH_GainsTheExtraHoursOnce()
    {
        var curve = new EarlyCurve(40, 60);
        Assert.Equal(0, curve.WornH(0));
        Assert.Equal(1040, curve.WornH(1000), 1e-3);
        Assert.Equal(1 + (40.0 / 60), curve.Slope(0), 1e-12);
        Assert.Equal((curve.WornH(30.001) - curve.WornH(29.999)) / 0.002, curve.Slope(30), 1e-6);
    }

    [Fact]
    public void None_IsTheClock()
    {
        Assert.Equal(123.4, default(EarlyCurve).WornH(123.4));
        Assert.Equal(1, default(EarlyCurve).Slope(5));
        Assert.Equal(double.PositiveInfinity, new EarlyCurve(40, 60).HoursFor(3, double.PositiveInfinity));
    }
}
