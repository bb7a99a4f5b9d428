using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>Reboots that lose what the gateway had gathered in the last seconds before.</summary>
/// <param name="dirt">How dirty, 0..3.</param>
/// <param name="log">Takes what happened.</param>
internal sealed class Reboots(double dirt, EventLog log)
{
    /// <summary>Takes the lost readings out of the day's.</summary>
    public void Apply(List<Reading> readings, SeededRandom random)
    {
        if (!random.Chance(GatewayRates.Reboot * dirt))
        {
            return;
        }

        var at = readings[random.Whole(0, readings.Count - 1)].UnixS;
        var from = at - random.Whole(GatewayRates.RebootLeastS, GatewayRates.RebootMostS);
        if (readings.RemoveAll(r => r.UnixS > from && r.UnixS <= at) > 0)
        {
            log.Add(GatewayEventKind.Reboot, from, at);
        }
    }
}
