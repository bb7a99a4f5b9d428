using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Tests.Physics;

public class PumpHeatTests
{
    // Two masses in a row have the rates that solve s^2 - (a + b + c) s + a c = 0 with a = inner/core, b = inner/housing, c = cooling/housing.
    private static (double Slow, double Fast) Rates(double cooling)
    {
        var a = PumpHeat.Inner / PumpHeat.CoreMassS;
        var b = PumpHeat.Inner / PumpHeat.HousingMassS;
        var c = cooling / PumpHeat.HousingMassS;
        var sum = a + b + c;
        var root = Math.Sqrt((sum * sum) - (4 * a * c));
        return ((sum - root) / 2, (sum + root) / 2);
    }

    [Fact]
    public void Cooling_FallsToOneOverEInTheSlowTimeConstant()
    {
        var heat = new PumpHeat { CoreC = 90, HousingC = 90 };
        var slow = Rates(PumpHeat.RestCooling).Slow;

        // Once the fast part has died out.
        Go(heat, 1500, 0, PumpHeat.RestCooling);
        var before = heat.HousingC - 20;
        Go(heat, (int)Math.Round(1 / slow), 0, PumpHeat.RestCooling);
        Assert.Equal(Math.Exp(-Math.Round(1 / slow) * slow), (heat.HousingC - 20) / before, 1e-3);
    }

    [Fact]
    public void Warming_FollowsTheTwoExponentials()
    {
        var heat = new PumpHeat { CoreC = 20, HousingC = 20 };
        Go(heat, 1200, 60, 1);
        var (slow, fast) = Rates(1);

        // Housing's step response: 1 - (fast e^(-slow t) - slow e^(-fast t)) / (fast - slow).
        var share = 1 - (((fast * Math.Exp(-slow * 1200)) - (slow * Math.Exp(-fast * 1200))) / (fast - slow));
        Assert.Equal(60 * share, heat.HousingC - 20, 0.06);
        Go(heat, 40_000, 60, 1);
        Assert.Equal(60, heat.HousingC - 20, 1e-6);
        Assert.Equal(60 / PumpHeat.Inner, heat.CoreC - heat.HousingC, 1e-6);
    }

    [Fact]
    public void Energy_IsConserved()
    {
        var heat = new PumpHeat { CoreC = 15, HousingC = 12 };
        var stored = Stored(heat);
        Go(heat, 900, 70, 0.9);
        heat.Advance(5000, 0, PumpHeat.RestCooling, 20);
        heat.Advance(300, 55, 1, 20, quenchK: 30);
        Assert.Equal(heat.HeatIn - heat.HeatOut, Stored(heat) - stored, 1e-6);
        Assert.True(heat.HeatIn > 10_000);
    }

    private static double Stored(PumpHeat heat) => (PumpHeat.CoreMassS * heat.CoreC) + (PumpHeat.HousingMassS * heat.HousingC);

    private static void Go(PumpHeat heat, int seconds, double heatK, double cooling)
    {
        for (var i = 0; i < seconds; i++)
        {
            heat.Advance(1, heatK, cooling, 20);
        }
    }
}
