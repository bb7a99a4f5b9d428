using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Indicators;

public sealed class PumpLensesTests
{
    [Fact]
    public void APumpThatAlwaysUsedMore_StandsOutAgainstPeersAndNotAgainstItsPast_ALeakAgainstBoth()
    {
        var options = new ExpectationOptions();
        var fleet = new SyntheticFleet(
            [
                .. Enumerable.Range(1, 6).Select(i => new SyntheticTruck
                {
                    Id = $"T{i}",
                    OilFactor = i == 2 ? 1.2 : 1,
                    OilFault = day => i == 5 && day >= 80 ? 1.4 : 1,
                }),
            ],
            110,
            3);
        var pumps = new WithinPumpExpectation(options).Learn(OilUseIndicator.Define(options.Shift), "RV-A", fleet.Data().Pumps).Pumps;

        // Usual use is 0.5 L/h.
        Near(0, pumps[1].Lenses!.AgainstOwnPast);
        Near(0.1, pumps[1].Lenses!.AgainstPeers!);
        Near(0.2, pumps[4].Lenses!.AgainstOwnPast);
        Near(0.2, pumps[4].Lenses!.AgainstPeers!);
        Near(0, pumps[0].Lenses!.AgainstPeers!);
        Assert.True(pumps[4].Lenses!.OutsideOwnLimits >= 8);
        Assert.True(pumps[1].Lenses!.OutsideOwnLimits <= 1);
    }

    private static void Near(double truth, LensReading reading)
    {
        Assert.Equal(10, reading.Runs);
        Assert.InRange(reading.StandardError, 0.002, 0.05);
        Assert.Equal(truth, reading.Deviation, (3 * reading.StandardError) + (0.05 * truth));
    }
}
