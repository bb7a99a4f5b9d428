using System.Diagnostics.Metrics;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Health;

/// <summary>The worker's metrics. No metric carries a truck's id.</summary>
public sealed class IngestMetrics
{
    /// <summary>The meter's name.</summary>
    public const string MeterName = "Vanehour.Ingest";

    private static readonly string[] ReasonNames = Enum.GetNames<RejectReason>();

    private readonly Counter<long> messages;
    private readonly Counter<long> acknowledged;
    private readonly Counter<long> samples;
    private readonly Counter<long> rejects;
    private readonly Counter<long> connections;
    private readonly Histogram<long> batchSamples;
    private readonly Histogram<double> storeSeconds;

    /// <summary>Makes the instruments.</summary>
    /// <param name="meters">Makes the meter.</param>
    /// <param name="monitor">Tells the backlog.</param>
    public IngestMetrics(IMeterFactory meters, IngestMonitor monitor)
    {
        ArgumentNullException.ThrowIfNull(meters);
        ArgumentNullException.ThrowIfNull(monitor);
        var meter = meters.Create(MeterName);
        messages = meter.CreateCounter<long>("vanehour.ingest.messages", "{message}", "Messages received, redeliveries included");
        acknowledged = meter.CreateCounter<long>("vanehour.ingest.messages.acknowledged", "{message}", "Messages stored and acknowledged");
        samples = meter.CreateCounter<long>("vanehour.ingest.samples", "{sample}", "Samples stored");
        rejects = meter.CreateCounter<long>("vanehour.ingest.rejects", "{record}", "Messages and records refused, by reason");
        connections = meter.CreateCounter<long>("vanehour.ingest.connections", "{connection}", "Connections made to the broker");
        batchSamples = meter.CreateHistogram<long>("vanehour.ingest.batch.samples", "{sample}", "Samples in a stored batch");
        storeSeconds = meter.CreateHistogram<double>("vanehour.ingest.store.write.duration", "s", "Time to make a batch durable");
        meter.CreateObservableGauge("vanehour.ingest.backlog", () => monitor.Backlog, "{message}", "Messages received and not yet acknowledged");
    }

    internal void Received() => messages.Add(1);

    internal void Connected() => connections.Add(1);

    internal void Flushed(int samplesStored, double seconds, ReadOnlySpan<long> rejected)
    {
        samples.Add(samplesStored);
        batchSamples.Record(samplesStored);
        storeSeconds.Record(seconds);
        for (var i = 0; i < rejected.Length; i++)
        {
            if (rejected[i] > 0)
            {
                rejects.Add(rejected[i], new KeyValuePair<string, object?>("reason", ReasonNames[i]));
            }
        }
    }

    internal void Acknowledged(long count) => acknowledged.Add(count);
}
