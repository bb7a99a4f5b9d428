using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Tests.Physics;

public class SlipLawTests
{
    [Theory]
    [InlineData(0.75, 101.325, 0, 1)]
    [InlineData(0.75, 101.325, 1, 0.75)]
    [InlineData(0.72, 83.4, 1, 0.72)]
    [InlineData(0.78, 97, 0.5, 0.89)]
    public void Share_GivesTheFlowKeptThatWearIsDefinedBy(double limit, double ambient, double wear, double flowKept)
    {
        const double Flow = 0.15;
        var law = new SlipLaw(limit, ambient);
        double Net(double w) => new TankEvacuation(ambient, Flow, Flow * law.Share(w), 10).NetFlowM3PerS(SlipLaw.ReferenceVacuumKPa);
        Assert.Equal(flowKept, Net(wear) / Net(0), 1e-12);
    }
}
