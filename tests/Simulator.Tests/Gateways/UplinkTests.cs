using Vanehour.Fleet;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Tests.Gateways;

public class UplinkTests
{
    /// <summary>A message a minute for twelve hours a day: what waits never exceeds the longest gap of ten hours and what a duplicate's two minutes hold, however long it goes on.</summary>
    [Fact]
    public void Uplink_HoldsNoMoreThanAGap()
    {
        var options = new SimulationOptions { Dirt = 3 };
        var plan = SimulatedFleet.Create(options).Plans[0];
        var uplink = new Uplink(plan, options, new EventLog(plan.Truck.Id, null));
        var readings = new List<Reading>();
        long most = 0, added = 0, taken = 0;
        for (var day = 0; day < 2000; day++)
        {
            var wakeS = (day + 1000L) * 86400;
            readings.Clear();
            readings.Add(new Reading(wakeS, SignalValues.Empty));
            readings.Add(new Reading(wakeS + 43200, SignalValues.Empty));
            uplink.BeginDay(new GatewayDay(new DateOnly(2026, 1, 5).AddDays(day), readings, plan.Sensors, 0));
            for (var s = 0; s < 43200; s += 60)
            {
                var ms = (wakeS + s) * 1000;
                taken += uplink.TakeBefore(ms).Count();
                uplink.Add(new SimulatedMessage("T01", "t", default, ms, ms, 1, ms));
                added++;
                most = Math.Max(most, uplink.Waiting);
            }
        }

        taken += uplink.TakeBefore(long.MaxValue).Count();
        Assert.InRange(most, 300, 600 * 1.1);
        Assert.InRange(taken, added, added * 1.05);
    }
}
