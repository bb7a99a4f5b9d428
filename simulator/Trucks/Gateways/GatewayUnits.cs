using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>Swaps of the gateway after which one signal comes in another unit, which the payload names.</summary>
internal sealed class GatewayUnits
{
    private static readonly Signal[] MayChange = [Signal.Vacuum, Signal.Pressure, Signal.PumpTemp, Signal.AmbientTemp, Signal.Baro, Signal.OilLevel];

    private readonly SensorSet fitted;
    private readonly Yard yard;
    private readonly double dirt;
    private readonly EventLog log;
    private DateOnly nextWeek;

    /// <summary>The units of one truck.</summary>
    /// <param name="fitted">Its sensors as fitted.</param>
    /// <param name="yard">Its yard.</param>
    /// <param name="dirt">How dirty, 0..3.</param>
    /// <param name="log">Takes what happened.</param>
    public GatewayUnits(SensorSet fitted, Yard yard, double dirt, EventLog log)
    {
        this.fitted = fitted;
        this.yard = yard;
        this.dirt = dirt;
        this.log = log;
        Now = fitted;
    }

    /// <summary>The sensors in the units in which they are sent today.</summary>
    public SensorSet Now { get; private set; }

    /// <summary>Begins a day with readings: the week's first may come with another gateway.</summary>
    public void BeginDay(DateOnly date, SeededRandom random)
    {
        if (date < nextWeek)
        {
            return;
        }

        nextWeek = date.AddDays(7 - (((int)date.DayOfWeek + 6) % 7));
        if (!random.Chance(GatewayRates.UnitChanged * dirt))
        {
            return;
        }

        var changes = MayChange.Where(s => Now[s] is not null).ToArray();
        var sensor = Now[changes[random.Whole(0, changes.Length - 1)]]!;
        var (unit, steps) = Other(sensor);
        Now = Now.With(sensor with { Unit = unit, StepsPerUnit = steps });
        var at = yard.At(date, 0).ToUnixTimeSeconds();
        log.Add(GatewayEventKind.UnitChanged, at, at);
    }

    /// <summary>Turns the day's readings from the units as fitted into today's.</summary>
    public void Apply(List<Reading> readings)
    {
        foreach (var signal in MayChange)
        {
            if (fitted[signal] is not { } from || Now[signal] is not { } to || from.Unit == to.Unit)
            {
                continue;
            }

            for (var i = 0; i < readings.Count; i++)
            {
                var values = readings[i].Values;
                if (!double.IsNaN(values[(int)signal]))
                {
                    values[(int)signal] = Math.Round(from.Unit.ConvertTo(to.Unit, values[(int)signal]) * to.StepsPerUnit) / to.StepsPerUnit;
                    readings[i] = readings[i] with { Values = values };
                }
            }
        }
    }

    private static (Unit Unit, double StepsPerUnit) Other(Sensor sensor) => sensor.Signal switch
    {
        Signal.Vacuum => sensor.Unit == Unit.Kilopascal ? (Unit.InchOfMercury, 20) : (Unit.Kilopascal, 10),
        Signal.Pressure => sensor.Unit == Unit.Kilopascal ? (Unit.Psi, 10) : (Unit.Kilopascal, 2),
        Signal.PumpTemp or Signal.AmbientTemp => (sensor.Unit == Unit.Celsius ? Unit.Fahrenheit : Unit.Celsius, 10),
        Signal.Baro => sensor.Unit == Unit.Kilopascal ? (Unit.Hectopascal, 10) : (Unit.Kilopascal, 100),
        _ => (sensor.Unit == Unit.Quart ? Unit.Litre : Unit.Quart, 50),
    };
}
