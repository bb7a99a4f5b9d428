using Vanehour.Simulator.Publishing;

namespace Vanehour.Simulator;

/// <summary>Publishes a simulated fleet over MQTT 5 at QoS 1.</summary>
public static class MqttPublisher
{
    private const int ProgressEvery = 200;

    /// <summary>Publishes every message of the fleet and waits for every acknowledgement.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="options">Where and how.</param>
    /// <param name="progress">Told every 200 messages and at the end; null for nobody.</param>
    /// <param name="time">The clock that paces <see cref="PublishPace.Real"/>.</param>
    /// <param name="cancellationToken">Stops at the next message.</param>
    /// <exception cref="PublishFailedException">The broker could not be reached, refused, or was lost.</exception>
    /// <exception cref="ArgumentException">An option is outside its range.</exception>
    public static async Task<PublishResult> PublishAsync(
        SimulatedFleet fleet, PublishOptions options, IProgress<PublishProgress>? progress, TimeProvider time, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        options.Validate();

        var connections = new List<PublishConnection>(options.Connections);
        try
        {
            for (var i = 0; i < options.Connections; i++)
            {
                var id = i == 0 ? options.ClientId : FormattableString.Invariant($"{options.ClientId}-{i + 1}");
                connections.Add(await PublishConnection.OpenAsync(options, id, cancellationToken).ConfigureAwait(false));
            }

            var result = await SendAllAsync(fleet, options, connections, progress, time, cancellationToken).ConfigureAwait(false);
            foreach (var connection in connections)
            {
                await connection.DrainAsync(cancellationToken).ConfigureAwait(false);
                await connection.CloseAsync(cancellationToken).ConfigureAwait(false);
            }

            progress?.Report(new PublishProgress(result.Messages, result.Samples, fleet.End, 1));
            return result;
        }
        finally
        {
            foreach (var connection in connections)
            {
                await connection.DisposeAsync().ConfigureAwait(false);
            }
        }
    }

    private static async Task<PublishResult> SendAllAsync(
        SimulatedFleet fleet,
        PublishOptions options,
        List<PublishConnection> connections,
        IProgress<PublishProgress>? progress,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        var placeOf = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var truck in fleet.Trucks)
        {
            placeOf[truck.Id] = placeOf.Count % connections.Count;
        }

        var startedAt = time.GetTimestamp();
        long? firstUnixMs = null;
        long messages = 0;
        long samples = 0;
        long bytes = 0;
        foreach (var message in fleet.Messages())
        {
            cancellationToken.ThrowIfCancellationRequested();
            firstUnixMs ??= message.LastUnixMs;
            if (options.Pace == PublishPace.Real)
            {
                var wait = TimeSpan.FromMilliseconds(message.LastUnixMs - firstUnixMs.Value) - time.GetElapsedTime(startedAt);
                if (wait > TimeSpan.Zero)
                {
                    await Task.Delay(wait, time, cancellationToken).ConfigureAwait(false);
                }
            }

            await connections[placeOf[message.Truck]].SendAsync(message, cancellationToken).ConfigureAwait(false);
            messages++;
            samples += message.Samples;
            bytes += message.Payload.Length;
            if (messages % ProgressEvery == 0)
            {
                var share = (message.LastAt - fleet.Start) / (fleet.End - fleet.Start);
                progress?.Report(new PublishProgress(messages, samples, message.LastAt, share));
            }
        }

        return new PublishResult(messages, samples, bytes);
    }
}
