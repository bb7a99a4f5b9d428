using System.Diagnostics.Metrics;

namespace Vanehour.Store.Outbox;

/// <summary>The forwarder's metrics. No metric carries a truck's id.</summary>
public sealed class ForwardingMetrics
{
    /// <summary>The meter's name.</summary>
    public const string MeterName = "Vanehour.Outbox";

    /// <summary>Makes the instruments; they are read from <paramref name="forwarder"/> whenever somebody looks.</summary>
    /// <param name="meters">Makes the meter.</param>
    /// <param name="forwarder">Tells how it is doing.</param>
    /// <param name="time">The clock.</param>
    public ForwardingMetrics(IMeterFactory meters, OutboxForwarder forwarder, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(meters);
        ArgumentNullException.ThrowIfNull(forwarder);
        ArgumentNullException.ThrowIfNull(time);
        var meter = meters.Create(MeterName);
        meter.CreateObservableGauge("vanehour.outbox.samples", () => forwarder.Status().Backlog.Samples, "{sample}", "Samples taken and not yet on the server");
        meter.CreateObservableGauge(
            "vanehour.outbox.age", () => forwarder.Status().Backlog.Age(time.GetUtcNow()).TotalSeconds, "s", "How long the oldest of them has waited");
        meter.CreateObservableCounter("vanehour.outbox.forwarded", () => forwarder.Status().Forwarded, "{point}", "Points brought to the server");
        meter.CreateObservableCounter("vanehour.outbox.refused", () => forwarder.Status().Refused, "{point}", "Points the server would not have");
    }
}
