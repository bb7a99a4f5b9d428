using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests.Gateways;

public class MeterTests
{
    [Fact]
    public void Meter_RollsOverAfterItsLastDigitAndGoesOn()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 9, Dirt = 1 });
        var meter = fleet.Samples("T09").Where(s => s[Signal.PtoHours] is not null).Select(s => s[Signal.PtoHours]!.Value).ToList();
        var at = meter.Zip(meter.Skip(1)).ToList().FindIndex(p => p.Second < p.First - 9000);
        Assert.True(at > 0 && at < meter.Count - 100);
        Assert.InRange(meter[at], 9999.5, 10_000 - 1e-9);
        Assert.InRange(meter[at + 1], 0, 0.5);
        Assert.True(meter[^1] > 10);
    }

    [Fact]
    public void MeterReplaced_IsWrittenDownWithWhatBothMetersShow()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Months = 2, Dirt = 3 });
        var records = fleet.ServiceRecords.Where(r => r.Kind == ServiceKind.MeterReplaced).ToList();
        Assert.NotEmpty(records);
        foreach (var record in records)
        {
            Assert.Equal("h", record.Unit);
            var meter = fleet.Samples(record.Truck).Where(s => s[Signal.PtoHours] is not null).ToLookup(s => s.At < record.At, s => s[Signal.PtoHours]!.Value);

            // A reboot or a drop-out may take the last or first reading away: at most some minutes of work.
            Assert.Equal(record.MeterH, meter[true].Last(), 0.3);
            Assert.Equal(record.Value!.Value, meter[false].First(), 0.3);
        }

        var events = fleet.Plans.SelectMany(p => fleet.GatewayEvents(p)).Where(e => e.Kind == GatewayEventKind.MeterReplaced);
        Assert.Equal(
            records.Select(r => (r.Truck, r.At.ToUniversalTime())).Order(),
            events.Select(e => (e.Truck, e.From)).Order());
    }
}
