using System.Text.Json;
using BenchmarkDotNet.Attributes;
using Vanehour.Fleet;
using Vanehour.Ingest.Payloads;
using Vanehour.Simulator;

namespace Vanehour.Bench;

/// <summary>Decoding 200 packs of the simulated fleet into samples, beside only parsing their JSON into a document.</summary>
public class DecodeBenchmarks
{
    private readonly List<SimulatedMessage> messages = [];
    private readonly List<Sample> samples = [];
    private readonly RejectSheet rejects = new();
    private readonly SampleDecoder decoder = new(SignalNames.Default, new DecodeLimits());
    private long arrivedMs;

    [GlobalSetup]
    public void Setup()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 12, Months = 1 });
        arrivedMs = fleet.End.ToUnixTimeMilliseconds();
        messages.AddRange(fleet.Messages().Take(200));
    }

    [Benchmark(Baseline = true)]
    public int JsonDocumentOnly()
    {
        var records = 0;
        foreach (var message in messages)
        {
            using var document = JsonDocument.Parse(message.Payload);
            records += document.RootElement.GetArrayLength();
        }

        return records;
    }

    [Benchmark]
    public int DecodeToSamples()
    {
        samples.Clear();
        foreach (var message in messages)
        {
            rejects.Open(message.Topic, arrivedMs, message.Payload);
            decoder.Decode(message.Truck, message.Payload.Span, arrivedMs, samples, rejects);
            rejects.Close();
        }

        return samples.Count;
    }
}
