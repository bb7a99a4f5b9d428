using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Physics;

/// <summary>
/// Ambient temperature and pressure at a yard as a closed form of time, so that every truck of a yard sees the same weather and nothing is remembered:
/// season and time of day, plus passing weather as three waves of a few days each. Amplitudes are invented.
/// </summary>
internal sealed class Weather
{
    private static readonly double[] PeriodsS = [3.3 * 86400, 5.1 * 86400, 8.7 * 86400];
    private const double PressureWaveKPa = 0.35;
    private const double TemperatureWaveK = 2.2;
    private const double DayWaveK = 5;
    private const double YearS = 365.25 * 86400;

    // 20 July, about the warmest time of the year in the north.
    private const double WarmestS = 200 * 86400.0;

    private readonly Yard yard;
    private readonly double[] phases = new double[6];

    public Weather(Yard yard, long seed)
    {
        this.yard = yard;
        var random = SeededRandom.For(seed, yard.Number, RandomStream.Weather);
        for (var i = 0; i < phases.Length; i++)
        {
            phases[i] = random.Uniform(0, 2 * Math.PI);
        }
    }

    /// <summary>Barometric pressure, kPa absolute: the standard atmosphere within 1.05 kPa.</summary>
    public double PressureKPa(long unixS)
    {
        var sum = 0.0;
        for (var i = 0; i < PeriodsS.Length; i++)
        {
            sum += Math.Sin((2 * Math.PI * unixS / PeriodsS[i]) + phases[i]);
        }

        return yard.StandardPressureKPa + (PressureWaveKPa * sum);
    }

    /// <summary>Ambient temperature, Cel.</summary>
    public double TemperatureC(long unixS)
    {
        var sum = 0.0;
        for (var i = 0; i < PeriodsS.Length; i++)
        {
            sum += Math.Sin((2 * Math.PI * unixS / PeriodsS[i]) + phases[i + 3]);
        }

        var season = Math.Cos(2 * Math.PI * (unixS - WarmestS) / YearS);
        var localHour = (unixS / 3600.0) + yard.StandardOffsetH;
        var day = Math.Cos(2 * Math.PI * (localHour - 15) / 24);
        return yard.MeanTempC + (yard.SeasonAmplitudeK * season) + (DayWaveK * day) + (TemperatureWaveK * sum);
    }
}
