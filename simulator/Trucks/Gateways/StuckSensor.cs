using Vanehour.Fleet;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>Short stretches in which one sensor keeps showing what it showed last.</summary>
/// <param name="dirt">How dirty, 0..3.</param>
/// <param name="log">Takes what happened.</param>
internal sealed class StuckSensor(double dirt, EventLog log)
{
    private static readonly Signal[] MayStick = [Signal.Vacuum, Signal.PumpTemp, Signal.AmbientTemp];

    /// <summary>Changes the day's readings in place. A stretch ends with the day: the input is read anew when the truck wakes.</summary>
    public void Apply(List<Reading> readings, SeededRandom random)
    {
        if (!random.Chance(GatewayRates.Stuck * dirt))
        {
            return;
        }

        var index = (int)MayStick[random.Whole(0, MayStick.Length - 1)];
        var from = readings[random.Whole(0, readings.Count - 1)].UnixS;

        // Short stretches are more common than long ones: uniform in the logarithm.
        var length = (long)(GatewayRates.StuckLeastS * Math.Pow((double)GatewayRates.StuckMostS / GatewayRates.StuckLeastS, random.NextUnit()));
        var held = double.NaN;
        long? first = null;
        var last = from;
        for (var i = 0; i < readings.Count && readings[i].UnixS <= from + length; i++)
        {
            var value = readings[i].Values[index];
            if (double.IsNaN(value))
            {
                continue;
            }

            if (readings[i].UnixS < from || double.IsNaN(held))
            {
                held = value;
                continue;
            }

            var values = readings[i].Values;
            values[index] = held;
            readings[i] = readings[i] with { Values = values };
            first ??= readings[i].UnixS;
            last = readings[i].UnixS;
        }

        if (first is { } begins)
        {
            log.Add(GatewayEventKind.Stuck, begins, last);
        }
    }
}
