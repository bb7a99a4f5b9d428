using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class WeatherEvidenceTests
{
    [Fact]
    public void PerKelvin_AsksTheTrucksWithABarometer()
    {
        // Those without one read the pressure that goes with the warmth as flow.
        var heard = Enumerable.Range(0, 8).Select(i => Life(-0.0002 + (0.00001 * (i % 2)), true));
        var deaf = Enumerable.Range(0, 20).Select(_ => Life(-0.001, false)).ToList();
        Assert.Equal(-0.000195, WeatherEvidence.PerKelvin(heard.Concat(deaf)), 1e-5);
        Assert.Equal(-0.001, WeatherEvidence.PerKelvin(deaf), 1e-5);
    }

    [Fact]
    public void PerKelvin_LittleKnown_IsDrawnToNothing()
    {
        // Lives that contradict each other by far more than the weather could do.
        var lives = Enumerable.Range(0, 6).Select(i => Life(0.001 + (i % 2 == 0 ? 0.01 : -0.01), true));
        Assert.InRange(WeatherEvidence.PerKelvin(lives), 0, 0.0001);
        Assert.Equal(0, WeatherEvidence.PerKelvin([Life(0.001, true), Life(0.001, true)]));
        Assert.Equal(0, WeatherEvidence.PerKelvin([]));
    }

    [Theory]
    [InlineData(99.5)]
    [InlineData(102.5)]
    public void Tightness_AtTheUsualPressure_IsNotTheBarometers(double ambientKPa)
    {
        var down = CheckRuns.At(10, 0.015, 0.0001, 0.9).FirstPumpDown!;
        var check = new WearCheck(10, 0.015, 0.0001, down with { AmbientKPa = ambientKPa });
        Assert.Equal(0.9, WearLife.TightnessOf(check, 101.325), 1e-9);
    }

    private static WeatherEvidence Life(double perKelvin, bool hasBarometer) => new(perKelvin * 1e9, 1e9, hasBarometer);
}
