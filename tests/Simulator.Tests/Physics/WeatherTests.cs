using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Tests.Physics;

public class WeatherTests
{
    private const long From = 1767571200;

    [Fact]
    public void Pressure_StaysWithinAKilopascalOfTheStandardAtmosphere()
    {
        foreach (var yard in Yard.All)
        {
            var weather = new Weather(yard, 3);
            var seen = Enumerable.Range(0, 4000).Select(h => weather.PressureKPa(From + (h * 3600L)) - yard.StandardPressureKPa).ToArray();
            Assert.InRange(seen.Max(Math.Abs), 0.5, 1.06);
            Assert.InRange(seen.Average(), -0.2, 0.2);
        }
    }

    [Fact]
    public void Temperature_IsWarmerInJulyAndInTheAfternoon()
    {
        var weather = new Weather(Yard.Prairie, 3);
        double Mean(long from) => Enumerable.Range(0, 30 * 24).Average(h => weather.TemperatureC(from + (h * 3600L)));
        Assert.InRange(Mean(From + (180 * 86400L)) - Mean(From), 15, 35);

        // 21:00 UTC is 15:00 in Chicago's standard time; 09:00 UTC is 03:00. The days' mean takes the passing weather out.
        double At(int utcHour) => Enumerable.Range(0, 200).Average(d => weather.TemperatureC(From + (d * 86400L) + (utcHour * 3600L)));
        Assert.InRange(At(21) - At(9), 8, 12);
    }
}
