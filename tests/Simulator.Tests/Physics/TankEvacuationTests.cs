using System.Text.Json;
using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Tests.Physics;

public class TankEvacuationTests
{
    // The textbook values carry 15 digits; the exponentials and logarithms cost a few of them.
    private const double Relative = 1e-12;

    public static TheoryData<string> Labels()
    {
        var data = new TheoryData<string>();
        foreach (var c in Textbook().GetProperty("cases").EnumerateArray())
        {
            data.Add(c.GetProperty("label").GetString()!);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Labels))]
    public void SecondsTo_MatchesTextbook(string label)
    {
        var c = Textbook().GetProperty("cases").EnumerateArray().Single(e => e.GetProperty("label").GetString() == label);
        var start = Number(c, "p_start_pa") / 1000;
        var tank = WithAsymptote(Number(c, "volume_m3"), Number(c, "speed_m3_per_s"), start, Number(c, "asymptote_pa") / 1000);
        var seconds = tank.SecondsTo(0, start - (Number(c, "p_end_pa") / 1000));
        Assert.Equal(Number(c, "time_s"), seconds, Relative * Number(c, "time_s") * 10);
        Assert.Equal(Number(c, "time_constant_s"), 1 / tank.RatePerS, Relative * Number(c, "time_constant_s"));
    }

    [Fact]
    public void VacuumAfter_MatchesTextbookCurve()
    {
        var curve = Textbook().GetProperty("curve");
        var start = Number(curve, "p_start_pa") / 1000;
        var tank = WithAsymptote(Number(curve, "volume_m3"), Number(curve, "speed_m3_per_s"), start, Number(curve, "p_ultimate_pa") / 1000);
        foreach (var point in curve.GetProperty("points").EnumerateArray())
        {
            var pressure = start - tank.VacuumAfter(0, Number(point, "t_s"));
            Assert.Equal(Number(point, "p_pa") / 1000, pressure, 1e-10);
        }
    }

    [Theory]
    [InlineData(101.325, 0.15, 0.05)]
    [InlineData(83.0, 0.1, 0.02)]
    public void Ultimate_IsWhereFlowAndLeakBalance(double ambient, double flow, double leak)
    {
        var tank = new TankEvacuation(ambient, flow, leak, 10);
        var p = ambient - tank.UltimateKPa;
        Assert.Equal(flow * p, leak * tank.UltimateKPa, 1e-12);
        Assert.Equal(0, tank.NetFlowM3PerS(tank.UltimateKPa), 1e-12);
        Assert.Equal(tank.UltimateKPa, tank.VacuumAfter(0, 1e6), 1e-9);
        Assert.Equal(double.PositiveInfinity, tank.SecondsTo(0, tank.UltimateKPa));
    }

    [Fact]
    public void VacuumAfter_AgreesWithManySmallEulerSteps()
    {
        var tank = new TankEvacuation(98, 0.14, 0.03, 12);
        var p = 98.0;
        const double Step = 1e-4;
        for (var i = 0; i < 600_000; i++)
        {
            p += Step / 12 * ((-0.14 * p) + (0.03 * (98 - p)));
        }

        // Euler's error here is about k * step / 2 of the change.
        Assert.Equal(98 - p, tank.VacuumAfter(0, 60), 1e-3);
    }

    [Fact]
    public void VacuumAfter_DoesNotDependOnTheStep()
    {
        var tank = new TankEvacuation(100, 0.14, 0.03, 12);
        var v = 0.0;
        for (var i = 0; i < 20; i++)
        {
            v = tank.VacuumAfter(v, 5);
        }

        Assert.Equal(tank.VacuumAfter(0, 100), v, 1e-10);
    }

    /// <summary>The textbook's effective speed S_t and asymptote p_u are here S + C = S_t and C = S_t p_u/p_a.</summary>
    private static TankEvacuation WithAsymptote(double volume, double speed, double ambient, double asymptote)
    {
        var leak = speed * asymptote / ambient;
        return new TankEvacuation(ambient, speed - leak, leak, volume);
    }

    private static double Number(JsonElement e, string name) => e.GetProperty(name).GetDouble();

    private static JsonElement Textbook() =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Published", "vacuum-pumpdown.json"))).RootElement;
}
