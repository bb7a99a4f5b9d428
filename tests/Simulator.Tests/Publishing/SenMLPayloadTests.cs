using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;

namespace Vanehour.Simulator.Tests.Publishing;

public class SenMLPayloadTests
{
    [Fact]
    public void Payload_ResolvesToTheSamples()
    {
        var fleet = Fleets.Month.Value;
        var streams = fleet.Trucks.ToDictionary(t => t.Id, t => fleet.Samples(t.Id).GetEnumerator());
        foreach (var message in fleet.Messages().Take(3000))
        {
            var samples = Resolve(message);
            Assert.Equal(message.Samples, samples.Count);
            foreach (var sample in samples)
            {
                Assert.True(streams[message.Truck].MoveNext());
                Assert.Equal(streams[message.Truck].Current, sample);
            }
        }
    }

    [Fact]
    public void Payload_IsCompactAndStartsWithTheBaseFields()
    {
        var message = Fleets.Small().Messages().First();
        var text = System.Text.Encoding.UTF8.GetString(message.Payload.Span);
        Assert.StartsWith($"[{{\"bn\":\"{message.Truck}/\",\"bt\":{message.FirstUnixMs / 1000},\"n\":\"", text, StringComparison.Ordinal);
        Assert.DoesNotContain(' ', text);
        Assert.True(message.Payload.Length < 256 * 1024);
        Assert.Equal(1, text.Split("\"bn\"").Length - 1);
        Assert.Equal(1, text.Split("\"bt\"").Length - 1);
    }

    [Fact]
    public void Payload_NumbersAreWrittenAsShortDecimals()
    {
        foreach (var message in Fleets.Small().Messages().Take(300))
        {
            using var json = JsonDocument.Parse(message.Payload);
            Assert.All(
                json.RootElement.EnumerateArray().Where(r => r.TryGetProperty("v", out _)),
                r => Assert.True(r.GetProperty("v").GetRawText().Length <= 10, r.GetRawText()));
        }
    }

    /// <summary>A plain reading of RFC 8428 for this test: base name and time from the first record, one sample an instant.</summary>
    private static List<Sample> Resolve(SimulatedMessage message)
    {
        using var json = JsonDocument.Parse(message.Payload);
        var samples = new List<Sample>();
        string? baseName = null;
        long? baseTime = null;
        foreach (var record in json.RootElement.EnumerateArray())
        {
            baseName = record.TryGetProperty("bn", out var bn) ? bn.GetString() : baseName;
            baseTime = record.TryGetProperty("bt", out var bt) ? bt.GetInt64() : baseTime;
            var name = baseName + record.GetProperty("n").GetString();
            Assert.StartsWith(message.Truck + "/", name, StringComparison.Ordinal);
            var info = SignalInfo.Find(name[(message.Truck.Length + 1)..])!;
            var at = (baseTime!.Value + (record.TryGetProperty("t", out var t) ? t.GetInt64() : 0)) * 1000;
            double value;
            if (record.TryGetProperty("vb", out var flag))
            {
                Assert.Equal(Signal.Pto, info.Signal);
                value = flag.GetBoolean() ? 1 : 0;
            }
            else
            {
                value = Unit.Find(record.GetProperty("u").GetString()!)!.ConvertTo(info.Unit, record.GetProperty("v").GetDouble());
            }

            if (samples.Count == 0 || samples[^1].UnixMs != at)
            {
                samples.Add(new Sample(message.Truck, at, SignalValues.Empty));
            }

            var values = samples[^1].Values;
            Assert.Null(values.Get(info.Signal));
            values.Set(info.Signal, value);
            samples[^1] = samples[^1] with { Values = values };
        }

        return samples;
    }
}
