using Vanehour.Models.PumpLives;
using Vanehour.Models.Tests.Planning;

namespace Vanehour.Models.Tests.PumpLives;

public class WearLifeTests
{
    /// <summary>By hand: 800 h run, and 200, 400 and 600 h to go.</summary>
    [Fact]
    public void HoursToTheLimit_CountFromFitting_ByModel()
    {
        var wear = new PlanFleet().With("T1", 10).With("T2", 20).With("T3", 30).With("T4", 90, model: "Birch 200").Input().Wear;
        Assert.Equal(new WearLife(3, 1040, 1200, 1360), WearLife.Of(wear, "Alder 400"));
        Assert.Equal(1, WearLife.Of(wear, "Birch 200")!.Pumps);
        Assert.Null(WearLife.Of(wear, "Cedar 310"));
        Assert.Null(WearLife.Of(wear.Select(w => w with { HoursToLimit = null }), "Alder 400"));
    }
}
