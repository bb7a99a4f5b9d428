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
}
