using System.Security.Cryptography;
using FsCheck.Xunit;
using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests;

public class SimulatedFleetTests
{
    [Fact]
    public void SameSeed_SameBytes()
    {
        Assert.Equal(Hash(Fleets.Small(5)), Hash(Fleets.Small(5)));
        Assert.NotEqual(Hash(Fleets.Small(5)), Hash(Fleets.Small(6)));
    }

    [Fact]
    public void Enumerations_AreIndependent()
    {
        var fleet = Fleets.Small();
        using var ahead = fleet.Messages().GetEnumerator();
        for (var i = 0; i < 100; i++)
        {
            Assert.True(ahead.MoveNext());
        }

        var first = fleet.Messages().Take(50).Select(m => Convert.ToHexString(SHA256.HashData(m.Payload.Span)));
        var again = fleet.Messages().Take(50).Select(m => Convert.ToHexString(SHA256.HashData(m.Payload.Span)));
        Assert.Equal(first, again);
    }

    [Fact]
    public void Truck_IsTheSameInALargerFleet()
    {
        var alone = SimulatedFleet.Create(new SimulationOptions { Trucks = 1, Months = 1 });
        Assert.Equal(alone.Samples("T01"), Fleets.Month.Value.Samples("T01"));
    }

    [Fact]
    public void Messages_AreInOrderOfTimeAndPacked()
    {
        var fleet = Fleets.Month.Value;
        var last = long.MinValue;
        var lastOf = new Dictionary<string, long>();
        foreach (var message in fleet.Messages())
        {
            Assert.True(message.LastUnixMs >= last);
            Assert.Equal(message.LastUnixMs, message.SentUnixMs);
            last = message.LastUnixMs;
            Assert.True(message.FirstUnixMs > lastOf.GetValueOrDefault(message.Truck));
            lastOf[message.Truck] = message.LastUnixMs;
            Assert.InRange(message.Samples, 20, 39);
            Assert.Equal($"fleet/{message.Truck}/pump", message.Topic);
        }

        Assert.Equal(fleet.Trucks.Length, lastOf.Count);
    }

    [Fact]
    public void Count_AgreesWithMessagesAndSamples()
    {
        var fleet = Fleets.Small();
        var totals = fleet.Count();
        Assert.Equal(fleet.Messages().Count(), totals.Messages);
        Assert.Equal(fleet.Trucks.Sum(t => fleet.Samples(t.Id).Count()), totals.Samples);
        Assert.Equal(fleet.Messages().Sum(m => (long)m.Payload.Length), totals.PayloadBytes);
    }

    [Fact]
    public void Demonstration_HasTheSizeThatOneMachineDigests() =>
        Assert.InRange(Fleets.Demonstration.Value.Count().Samples, 600_000, 1_500_000);

    [Fact]
    public void Samples_OfAnUnknownTruckAreRefused() => Assert.Throws<ArgumentException>(() => Fleets.Small().Samples("T99"));

    [Property(MaxTest = 6)]
    public void Samples_StayWithinPhysicalBounds(long seed)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Seed = seed, Months = 1 });
        foreach (var truck in fleet.Trucks)
        {
            var before = DateTimeOffset.MinValue;
            var meter = 0.0;
            var oil = 0.0;
            foreach (var sample in fleet.Samples(truck.Id))
            {
                Assert.True(sample.At > before && sample.At >= fleet.Start && sample.At < fleet.End);
                before = sample.At;
                Assert.False(sample.Values.IsEmpty);
                foreach (var info in SignalInfo.All)
                {
                    if (sample[info.Signal] is { } value)
                    {
                        Assert.InRange(value, info.Lowest, info.Highest);
                    }
                }

                // Never deeper than nine tenths of the barometer, never hotter than 150 Cel, never above the pressure relief by more than the gauge's error.
                Assert.True(sample[Signal.Vacuum] is null or < 92);
                Assert.True(sample[Signal.PumpTemp] is null or (> -35 and < 150));
                Assert.True(sample[Signal.Pressure] is null or < 120);
                Assert.True(sample[Signal.PumpSpeed] is null or < 1450);
                Assert.True((sample[Signal.PtoHours] ?? meter) >= meter);
                Assert.True((sample[Signal.OilUsed] ?? oil) >= oil);
                meter = sample[Signal.PtoHours] ?? meter;
                oil = sample[Signal.OilUsed] ?? oil;
            }
        }
    }

    [Property(MaxTest = 4)]
    public void Truck_KeepsInsideTheModelsLimitsUnderLoad(long seed)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Seed = seed, Months = 1, Faults = FaultScenario.None });
        foreach (var plan in fleet.Plans)
        {
            var model = plan.Build.Model;
            foreach (var sample in fleet.Samples(plan.Truck.Id))
            {
                Assert.True(sample[Signal.PumpTemp] is null || sample[Signal.PumpTemp] < model.MaxTemperature.Celsius);
                Assert.True(sample[Signal.Pressure] is null || sample[Signal.Pressure] < model.MaxPressure.Kilopascals);

                // The gauge's own error may carry single samples a little over.
                Assert.True(sample[Signal.Vacuum] is null || sample[Signal.Vacuum] < model.MaxVacuum.Kilopascals + 1.5);
                if (sample[Signal.Vacuum] > 5 && sample[Signal.PumpSpeed] is { } rpm)
                {
                    Assert.InRange(rpm, model.MinSpeed.Rpm, model.MaxSpeed.Rpm);
                }
            }
        }
    }

    private static string Hash(SimulatedFleet fleet)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var message in fleet.Messages())
        {
            hash.AppendData(message.Payload.Span);
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }
}
