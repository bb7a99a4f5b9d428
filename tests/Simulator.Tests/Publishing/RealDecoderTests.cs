using Vanehour.Fleet;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Simulator.Tests.Publishing;

public class RealDecoderTests
{
    /// <summary>The worker's own decoder, on every payload, gives the samples that went in: nothing refused, no digit lost but the last of a unit conversion.</summary>
    [Fact]
    public void TheWorkersDecoderReadsEveryPayloadAsTheSamplesThatWentIn()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 12, Months = 1 });
        var arrivedMs = fleet.End.ToUnixTimeMilliseconds();
        var decoder = new SampleDecoder(SignalNames.Default, new DecodeLimits());
        var rejects = new RejectSheet();
        var decoded = new Dictionary<string, List<Sample>>(StringComparer.Ordinal);
        foreach (var message in fleet.Messages())
        {
            if (!decoded.TryGetValue(message.Truck, out var samples))
            {
                decoded[message.Truck] = samples = [];
            }

            rejects.Open(message.Topic, arrivedMs, message.Payload);
            var tally = decoder.Decode(message.Truck, message.Payload.Span, arrivedMs, samples, rejects);
            rejects.Close();
            Assert.Equal(message.Samples, tally.Samples);
        }

        Assert.Empty(rejects.Rejects);
        Assert.Equal(12, decoded.Count);
        foreach (var (truck, samples) in decoded)
        {
            var sent = fleet.Samples(truck).ToList();
            Assert.Equal(sent.Count, samples.Count);
            for (var i = 0; i < sent.Count; i++)
            {
                Assert.Equal(sent[i].UnixMs, samples[i].UnixMs);
                foreach (var signal in Enum.GetValues<Signal>())
                {
                    Assert.Equal(sent[i][signal] ?? -1e9, samples[i][signal] ?? -1e9, 1e-9);
                }
            }
        }
    }

    /// <summary>Dirt is never so bad that the worker turns it away, even at the instant at which it goes out by a right clock.</summary>
    [Fact]
    public void TheWorkersDecoderAcceptsEveryDirtyPayload()
    {
        var fleet = Fleets.DirtyMonth.Value;
        var decoder = new SampleDecoder(SignalNames.Default, new DecodeLimits());
        var rejects = new RejectSheet();
        var decoded = new Dictionary<string, SortedDictionary<long, Sample>>(StringComparer.Ordinal);
        var samples = new List<Sample>();
        foreach (var message in Fleets.DirtyMonthMessages.Value)
        {
            samples.Clear();
            rejects.Open(message.Topic, message.SentUnixMs, message.Payload);
            var tally = decoder.Decode(message.Truck, message.Payload.Span, message.SentUnixMs, samples, rejects);
            rejects.Close();
            Assert.Equal(message.Samples, tally.Samples);
            if (!decoded.TryGetValue(message.Truck, out var byInstant))
            {
                decoded[message.Truck] = byInstant = [];
            }

            samples.ForEach(s => byInstant[s.UnixMs] = s);
        }

        Assert.Empty(rejects.Rejects);
        Assert.Equal(12, decoded.Count);
        foreach (var (truck, byInstant) in decoded)
        {
            var sent = fleet.Samples(truck).ToList();
            Assert.Equal(sent.Count, byInstant.Count);
            foreach (var (expected, got) in sent.Zip(byInstant.Values))
            {
                Assert.Equal(expected.UnixMs, got.UnixMs);
                Assert.All(Enum.GetValues<Signal>(), signal => Assert.Equal(expected[signal] ?? -1e9, got[signal] ?? -1e9, 1e-9));
            }
        }
    }
}
