using System.Collections.Immutable;
using System.Security.Cryptography;
using FsCheck.Xunit;
using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests.Gateways;

public class DirtTests
{
    private static readonly Lazy<ImmutableArray<GatewayEvent>> DirtyMonthEvents = new(() => EventsOf(Fleets.DirtyMonth.Value));

    [Fact]
    public void SameSeed_SameBytesAndInstantsOfSending()
    {
        Assert.Equal(Hash(1, 1), Hash(1, 1));
        Assert.NotEqual(Hash(1, 1), Hash(2, 1));
        Assert.NotEqual(Hash(1, 1), Hash(1, 2));
    }

    [Fact]
    public void EveryKind_OccursInTwelveTrucksAndSixMonths()
    {
        var kinds = EventsOf(SimulatedFleet.Create(new SimulationOptions { Dirt = 1 })).Select(e => e.Kind).ToHashSet();
        Assert.Empty(Enum.GetValues<GatewayEventKind>().Except(kinds));
    }

    [Fact]
    public void WithoutDirt_NothingHappens() => Assert.Empty(EventsOf(Fleets.Month.Value));

    [Fact]
    public void Rates_ScaleWithDirt()
    {
        var little = EventsOf(SimulatedFleet.Create(new SimulationOptions { Months = 1, Dirt = 0.3 })).Count(Single);
        var much = DirtyMonthEvents.Value.Count(Single);

        // A tenth of some hundred events, with four standard errors of a Poisson count to either side.
        Assert.True(much > 200, $"{much}");
        Assert.InRange(little, (much / 10.0) - (4 * Math.Sqrt(much / 10.0)), (much / 10.0) + (4 * Math.Sqrt(much / 10.0)));

        static bool Single(GatewayEvent e) => e.Kind is GatewayEventKind.Spike or GatewayEventKind.DropOut;
    }

    [Fact]
    public void Messages_AreInOrderOfSendingAndDuplicatesAreByteEqual()
    {
        var duplicates = 0;
        var last = long.MinValue;
        var seen = new Dictionary<(string Truck, long FirstUnixMs), SimulatedMessage>();
        foreach (var message in Fleets.DirtyMonthMessages.Value)
        {
            Assert.True(message.SentUnixMs >= last);
            last = message.SentUnixMs;
            if (seen.TryGetValue((message.Truck, message.FirstUnixMs), out var first))
            {
                duplicates++;
                Assert.True(first.Payload.Span.SequenceEqual(message.Payload.Span));
                Assert.Equal(first with { Payload = default, SentUnixMs = 0 }, message with { Payload = default, SentUnixMs = 0 });
                Assert.True(message.SentUnixMs > first.SentUnixMs);
            }
            else
            {
                seen.Add((message.Truck, message.FirstUnixMs), message);
            }
        }

        Assert.True(duplicates > 10);
        Assert.Equal(DirtyMonthEvents.Value.Count(e => e.Kind == GatewayEventKind.Duplicate), duplicates);
    }

    [Fact]
    public void NoCoverage_HoldsMessagesUpUntilOneBurst()
    {
        var messages = Fleets.DirtyMonthMessages.Value.ToLookup(m => m.Truck);
        var gaps = DirtyMonthEvents.Value.Where(e => e.Kind == GatewayEventKind.NoCoverage).ToList();
        Assert.NotEmpty(gaps);
        foreach (var gap in gaps)
        {
            Assert.DoesNotContain(messages[gap.Truck], m => m.SentAt >= gap.From && m.SentAt < gap.To);

            // What was gathered since the gap began goes out within a minute of its end, oldest first.
            var burst = messages[gap.Truck].Where(m => m.SentAt >= gap.To && m.SentAt < gap.To.AddMinutes(1)).ToList();
            Assert.NotEmpty(burst);
            Assert.True(burst.DistinctBy(m => m.FirstUnixMs).Zip(burst.DistinctBy(m => m.FirstUnixMs).Skip(1)).All(p => p.First.FirstUnixMs < p.Second.FirstUnixMs));
        }

        // Somewhere a gap was long enough for more than one message.
        Assert.Contains(gaps, g => messages[g.Truck].Count(m => m.SentAt >= g.To && m.SentAt < g.To.AddSeconds(5)) > 5);
    }

    /// <summary>The clean fleet is the oracle: dirt changes what its events name, and loses what reboots and drop-outs lose.</summary>
    [Fact]
    public void Events_AreAllThatSetsTheDirtyFleetApartFromTheCleanOne()
    {
        foreach (var truck in Fleets.Month.Value.Trucks)
        {
            var events = DirtyMonthEvents.Value.Where(e => e.Truck == truck.Id).ToLookup(e => e.Kind);
            var dirty = Fleets.DirtyMonth.Value.Samples(truck.Id).ToDictionary(s => s.UnixMs);
            var changedUnits = events[GatewayEventKind.UnitChanged].Select(e => e.From).DefaultIfEmpty(DateTimeOffset.MaxValue).Min();
            int lost = 0, missing = 0, shifted = 0;
            foreach (var clean in Fleets.Month.Value.Samples(truck.Id))
            {
                if (events[GatewayEventKind.Reboot].Any(e => clean.At > e.From && clean.At <= e.To))
                {
                    lost++;
                    Assert.False(dirty.ContainsKey(clean.UnixMs));
                    continue;
                }

                if (events[GatewayEventKind.ClockWrong].Any(e => clean.At >= e.From && clean.At < e.To))
                {
                    shifted++;
                    continue;
                }

                Assert.True(dirty.Remove(clean.UnixMs, out var got));
                foreach (var info in SignalInfo.All)
                {
                    var signal = info.Signal;
                    if (clean[signal] is not { } value)
                    {
                        Assert.Null(got[signal]);
                    }
                    else if (got[signal] is not { } shown)
                    {
                        missing++;
                        Assert.Contains(events[GatewayEventKind.DropOut], e => e.From == clean.At);
                    }
                    else if (Math.Abs(shown - value) > (clean.At >= changedUnits ? 0.3 : 0) && signal != Signal.PtoHours)
                    {
                        Assert.True(
                            events[GatewayEventKind.Spike].Any(e => e.From == clean.At)
                            || events[GatewayEventKind.Stuck].Any(e => clean.At >= e.From && clean.At <= e.To));
                    }
                }
            }

            // What is left over was stamped by a wrong clock: as many as the clean fleet has there, none lost.
            Assert.Equal(shifted, dirty.Count);
            Assert.Equal(events[GatewayEventKind.Reboot].Any(), lost > 0);
            if (shifted == 0)
            {
                Assert.Equal(events[GatewayEventKind.DropOut].Count(), missing);
            }
        }
    }

    [Fact]
    public void ClockWrong_ShiftsInstantsByMinutesUntilCorrected()
    {
        var wrong = DirtyMonthEvents.Value.Where(e => e.Kind == GatewayEventKind.ClockWrong).ToList();
        Assert.NotEmpty(wrong);
        foreach (var message in Fleets.DirtyMonthMessages.Value)
        {
            if (message.SentUnixMs < message.LastUnixMs)
            {
                Assert.Contains(wrong, e => e.Truck == message.Truck && message.SentAt >= e.From && message.SentAt < e.To);
                Assert.InRange(message.LastUnixMs - message.SentUnixMs, 120_000, 540_000);
            }
        }

        Assert.Contains(Fleets.DirtyMonthMessages.Value, m => m.SentUnixMs < m.LastUnixMs);
    }

    [Property(MaxTest = 4)]
    public void DirtySamples_StayInOrderAndInsideWhatASensorCanMean(long seed)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Seed = seed, Trucks = 6, Months = 1, Dirt = 3 });
        foreach (var truck in fleet.Trucks)
        {
            var before = long.MinValue;
            foreach (var sample in fleet.Samples(truck.Id))
            {
                Assert.True(sample.UnixMs > before);
                before = sample.UnixMs;
                Assert.False(sample.Values.IsEmpty);
                Assert.All(SignalInfo.All, i => Assert.True(sample[i.Signal] is not { } v || i.Admits(v)));
            }
        }
    }

    private static ImmutableArray<GatewayEvent> EventsOf(SimulatedFleet fleet) => [.. fleet.Plans.AsParallel().AsOrdered().SelectMany(p => fleet.GatewayEvents(p))];

    private static string Hash(long seed, double dirt)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var message in SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 1, Seed = seed, Dirt = dirt }).Messages())
        {
            hash.AppendData(message.Payload.Span);
            hash.AppendData(BitConverter.GetBytes(message.SentUnixMs));
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }
}
