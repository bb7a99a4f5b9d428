using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>How restless the pump temperature is: what noise, a warm-up and gulps of liquid make of it, worked out beside each.</summary>
public sealed class TemperatureHuntingTests
{
    [Fact]
    public void Noise_IsItsOwnStandardDeviation()
    {
        var noise = new Noise(3);
        Assert.Equal(0.3, Of(1200, 60, _ => 80 + noise.Normal(0.3))!.Value, 0.02);
    }

    [Fact]
    public void AWarmUp_LeavesNextToNothing() => Assert.InRange(Of(60, 60, s => 10 + (60 * (1 - Math.Exp(-s / 1200))))!.Value, 0, 0.05);

    [Fact]
    public void AWave_LeavesItsCurvature()
    {
        // At a quarter of the period between readings a sine lies its own value off the line between its neighbours: 1/sqrt(2) on average,
        // over sqrt(1 + 1/4 + 1/4) for what independent noise would give.
        var phase = 0.7;
        Assert.Equal(Math.Sqrt(0.5 / 1.5), Of(400, 60, s => 80 + Math.Sin((2 * Math.PI * s / 240) + phase))!.Value, 0.01);
    }

    [Fact]
    public void ReadingsCloserTogether_GiveTheSame()
    {
        double Wave(double s) => 80 + Math.Sin((2 * Math.PI * s / 240) + 0.7);
        Assert.Equal(Of(400, 60, Wave)!.Value, Of(2400, 10, Wave)!.Value, 0.01);
    }

    [Fact]
    public void WithoutVacuum_OrWithFewReadings_NothingIsSaid()
    {
        Assert.Null(Of(60, 60, _ => 80, vacuumKPa: 0));
        Assert.Null(Of(5, 60, _ => 80));
        Assert.NotNull(Of(8, 60, _ => 80));
    }

    private static double? Of(int readings, double everyS, Func<double, double> temperatureC, double vacuumKPa = 45)
    {
        var deriver = new RunDeriver(Register.Context(), []);
        var runs = new List<Run>();
        var startMs = Register.Fitted.AddDays(1).ToUnixTimeMilliseconds();
        for (var i = 0; i < readings; i++)
        {
            var values = SignalValues.Empty;
            values.Set(Signal.Pto, i < readings - 1 ? 1 : 0);
            values.Set(Signal.Vacuum, vacuumKPa);
            values.Set(Signal.PumpTemp, temperatureC(i * everyS));
            deriver.Push(new Sample("T01", startMs + (long)(i * everyS * 1000), values), runs);
        }

        deriver.Finish(runs);
        return Assert.Single(runs).TempHuntingK;
    }
}
