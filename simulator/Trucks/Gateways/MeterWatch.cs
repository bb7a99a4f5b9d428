using Vanehour.Fleet;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>Sees the hour meter roll over. The rolling itself is the meter's, so that service records show it too.</summary>
/// <param name="log">Takes what happened.</param>
internal sealed class MeterWatch(EventLog log)
{
    private const double NearEndH = 0.9 * GatewayRates.MeterTurnsAtH;
    private const double NearStartH = 0.1 * GatewayRates.MeterTurnsAtH;

    private double lastH = double.NaN;
    private long lastS;

    /// <summary>The meter was replaced: its next reading says nothing of the old one.</summary>
    public void Replaced(long atS)
    {
        lastH = double.NaN;
        log.Add(GatewayEventKind.MeterReplaced, atS, atS);
    }

    /// <summary>Looks through a day's readings.</summary>
    public void Look(List<Reading> readings)
    {
        foreach (var reading in readings)
        {
            var nowH = reading.Values[(int)Signal.PtoHours];
            if (double.IsNaN(nowH))
            {
                continue;
            }

            if (lastH > NearEndH && nowH < NearStartH)
            {
                log.Add(GatewayEventKind.MeterRollOver, lastS, reading.UnixS);
            }

            lastH = nowH;
            lastS = reading.UnixS;
        }
    }
}
