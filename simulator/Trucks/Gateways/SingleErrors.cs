using Vanehour.Fleet;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>Single spikes and single drop-outs of one signal in a sample. Counters and flags come from the gateway itself and do not spike.</summary>
/// <param name="sensors">The truck's sensors as fitted.</param>
/// <param name="dirt">How dirty, 0..3.</param>
/// <param name="log">Takes what happened.</param>
internal sealed class SingleErrors(SensorSet sensors, double dirt, EventLog log)
{
    /// <summary>Changes the day's readings in place.</summary>
    public void Apply(List<Reading> readings, SeededRandom random)
    {
        for (var i = 0; i < readings.Count; i++)
        {
            var reading = readings[i];
            if (random.Chance(GatewayRates.Spike * dirt) && Pick(reading.Values, random, AnalogSignals.Has) is { } jumps)
            {
                var values = reading.Values;
                values[(int)jumps] = sensors[jumps]!.Read(AnalogSignals.FarEnd(jumps, sensors[jumps]!.ToCanonical(values[(int)jumps])), 0);
                readings[i] = reading = reading with { Values = values };
                log.Add(GatewayEventKind.Spike, reading.UnixS, reading.UnixS);
            }

            // A sample's only signal stays: without it the sample itself would be gone, which is what a reboot does.
            if (random.Chance(GatewayRates.DropOut * dirt) && Count(reading.Values) > 1 && Pick(reading.Values, random, _ => true) is { } missing)
            {
                var values = reading.Values;
                values[(int)missing] = double.NaN;
                readings[i] = reading with { Values = values };
                log.Add(GatewayEventKind.DropOut, reading.UnixS, reading.UnixS);
            }
        }
    }

    private static int Count(in SignalValues values)
    {
        var count = 0;
        foreach (var value in values)
        {
            count += double.IsNaN(value) ? 0 : 1;
        }

        return count;
    }

    private static Signal? Pick(in SignalValues values, SeededRandom random, Func<Signal, bool> may)
    {
        Span<Signal> there = stackalloc Signal[SignalInfo.Count];
        var count = 0;
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            if (!double.IsNaN(values[i]) && may((Signal)i))
            {
                there[count++] = (Signal)i;
            }
        }

        return count == 0 ? null : there[random.Whole(0, count - 1)];
    }
}
