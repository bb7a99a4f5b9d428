using Vanehour.Fleet;
using Vanehour.Fleet.Lives;

namespace Vanehour.Simulator.Tests.Scenario;

public class HistoryTests
{
    private static readonly SimulatedFleet Fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 48, Months = 2, HistoryYears = 8 });

    [Fact]
    public void PastLives_EndInRebuildsAndFailures_AndRunOnIntoTheSimulation()
    {
        var from = Fleet.Options.From.AddYears(-8);
        var all = new List<Life>();
        foreach (var truck in Fleet.Trucks)
        {
            var lives = LifeHistory.Build(truck, Fleet.ServiceRecords);
            Assert.True(lives.Count >= 3);
            all.AddRange(lives.Take(lives.Count - 1));
            for (var i = 0; i + 1 < lives.Count; i++)
            {
                Assert.True(lives[i].MeterAtEndH > lives[i].MeterAtFittingH + 300);
                Assert.Equal(lives[i].MeterAtEndH, lives[i + 1].MeterAtFittingH);
                Assert.True(lives[i].EndedAt <= lives[i + 1].FittedAt);
            }

            // The running life's clock agrees with the first sample's meter.
            var first = Fleet.Samples(truck.Id).First(s => s[Signal.PtoHours] is not null);
            Assert.InRange(first[Signal.PtoHours]!.Value - lives.Last(l => l.FittedAt < Fleet.Start).MeterAtFittingH, -0.02, 3000);

            // The life under way when the records begin was fitted before: late entry.
            Assert.True(DateOnly.FromDateTime(truck.PumpFitted.Date) <= from);
        }

        Assert.InRange(all.Count(l => l.EndedBy == ServiceKind.Failure) / (double)all.Count, 0.12, 0.4);
        Assert.True(all.Count > 200);
    }

    // Two models of one truth, and two that truly differ.
    [Fact]
    public void Models_LiveAsLongAsTheirTruthSays()
    {
        double Mean(string model) => Fleet.Trucks.Where(t => t.PumpModel == model)
            .SelectMany(t => LifeHistory.Build(t, Fleet.ServiceRecords).Where(l => l.EndedBy == ServiceKind.Rebuild))
            .Average(l => l.MeterAtEndH!.Value - l.MeterAtFittingH);
        Assert.Equal(1, Mean("Harrow 310") / Mean("Juniper 310"), 0.08);
        Assert.InRange(Mean("Bramble 400") / Mean("Thistle 230"), 1.5, 2.2);
    }

    [Fact]
    public void Records_AreUniqueAndInOrder()
    {
        Assert.Equal(Fleet.ServiceRecords.Length, Fleet.ServiceRecords.Select(r => r.RecordId).Distinct().Count());
        Assert.Equal(Fleet.ServiceRecords, Fleet.ServiceRecords.OrderBy(r => r.At).ThenBy(r => r.Truck, StringComparer.Ordinal));
    }
}
