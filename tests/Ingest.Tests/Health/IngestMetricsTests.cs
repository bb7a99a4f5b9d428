using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using Vanehour.Ingest.Health;
using Vanehour.Ingest.Tests.Pipeline;

namespace Vanehour.Ingest.Tests.Health;

public class IngestMetricsTests
{
    [Fact]
    public async Task Instruments_CountWhatThePipelineDoes_AndNeverNameATruck()
    {
        var measured = new ConcurrentQueue<(string Name, string? Unit, double Value, string Tags)>();
        await using var rig = new PipelineRig();
        using var listener = new MeterListener();
        listener.InstrumentPublished = (instrument, l) =>
        {
            if (instrument.Meter.Name == IngestMetrics.MeterName && instrument.Meter.Scope == rig.Meters)
            {
                l.EnableMeasurementEvents(instrument);
            }
        };
        listener.SetMeasurementEventCallback<long>((i, v, tags, _) => measured.Enqueue((i.Name, i.Unit, v, Text(tags))));
        listener.SetMeasurementEventCallback<double>((i, v, tags, _) => measured.Enqueue((i.Name, i.Unit, v, Text(tags))));
        listener.Start();
        rig.Start();
        rig.Send("""[{"n":"vacuum","u":"kPa","t":1767340000,"v":1},{"n":"foo","v":1},{"n":"bar","v":1},{"n":"vacuum","t":1767340000,"v":1}]""");
        await rig.FinishAsync();
        listener.RecordObservableInstruments();

        Assert.Equal(1, Sum("vanehour.ingest.samples"));
        Assert.Equal(1, Sum("vanehour.ingest.messages.acknowledged"));
        Assert.Equal(1, Sum("vanehour.ingest.batch.samples"));
        Assert.Equal(0, Sum("vanehour.ingest.backlog"));
        Assert.Equal(2, Sum("vanehour.ingest.rejects", "reason=UnknownSignal"));
        Assert.Equal(1, Sum("vanehour.ingest.rejects", "reason=MissingUnit"));
        Assert.Contains(measured, m => m is { Name: "vanehour.ingest.store.write.duration", Unit: "s" });
        Assert.All(measured, m =>
        {
            Assert.Equal(m.Name.ToLowerInvariant(), m.Name);
            Assert.NotNull(m.Unit);
            Assert.DoesNotContain("T07", m.Tags, StringComparison.Ordinal);
        });

        double Sum(string name, string tags = "") => measured.Where(m => m.Name == name && m.Tags == tags).Sum(m => m.Value);

        static string Text(ReadOnlySpan<KeyValuePair<string, object?>> tags) => string.Join(',', tags.ToArray().Select(t => $"{t.Key}={t.Value}"));
    }
}
