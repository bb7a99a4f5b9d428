using Vanehour.Simulator.Publishing;

namespace Vanehour.Simulator;

/// <summary>Publishes a simulated fleet over MQTT 5 at QoS 1.</summary>
public static class MqttPublisher
{
    private const int ProgressEvery = 200;

    // How long a start that is cut short waits for acknowledgements still to come before it writes down how far it came.
    private static readonly TimeSpan LastAcknowledgements = TimeSpan.FromSeconds(10);

    /// <summary>Publishes every message of the fleet and waits for every acknowledgement.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="options">Where and how.</param>
    /// <param name="progress">Told every 200 messages and at the end; null for nobody.</param>
    /// <param name="time">The clock that paces <see cref="PublishPace.Real"/>.</param>
    /// <param name="cancellationToken">Stops at the next message.</param>
    /// <exception cref="PublishFailedException">The broker could not be reached, refused, was lost, or the resume file belongs to another fleet.</exception>
    /// <exception cref="IOException">The resume file cannot be read or written.</exception>
    /// <exception cref="ArgumentException">An option is outside its range.</exception>
    public static async Task<PublishResult> PublishAsync(
        SimulatedFleet fleet, PublishOptions options, IProgress<PublishProgress>? progress, TimeProvider time, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        options.Validate();

        var resume = options.ResumeFile is { } file ? ResumeFile.Open(file, fleet) : null;
        var connections = new List<PublishConnection>(options.Connections);
        try
        {
            for (var i = 0; i < options.Connections; i++)
            {
                var id = i == 0 ? options.ClientId : FormattableString.Invariant($"{options.ClientId}-{i + 1}");
                connections.Add(await PublishConnection.OpenAsync(options, id, cancellationToken).ConfigureAwait(false));
            }

            var result = await SendAndKeepAsync(fleet, options, resume, connections, progress, time, cancellationToken).ConfigureAwait(false);
            foreach (var connection in connections)
            {
                await connection.CloseAsync(cancellationToken).ConfigureAwait(false);
            }

            progress?.Report(new PublishProgress(result.PublishedBefore + result.Messages, result.Samples, fleet.End, 1));
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

    private static async Task<PublishResult> SendAndKeepAsync(
        SimulatedFleet fleet,
        PublishOptions options,
        ResumeFile? resume,
        List<PublishConnection> connections,
        IProgress<PublishProgress>? progress,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        if (resume is null)
        {
            return await SendAllAsync(fleet, options, null, connections, progress, time, cancellationToken).ConfigureAwait(false);
        }

        // A file that cannot be written stops the sending, rather than let it run on without a way back.
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var keeping = KeepAsync();
        try
        {
            return await SendAllAsync(fleet, options, resume, connections, progress, time, stop.Token).ConfigureAwait(false);
        }
        finally
        {
            await stop.CancelAsync().ConfigureAwait(false);
            await keeping.ConfigureAwait(false);
            await AwaitLastAsync(connections, time).ConfigureAwait(false);
            resume.Save();
        }

        async Task KeepAsync()
        {
            try
            {
                await resume.KeepAsync(time, stop.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                // The sending has ended.
            }
            catch
            {
                await stop.CancelAsync().ConfigureAwait(false);
                throw;
            }
        }
    }

    private static async Task AwaitLastAsync(List<PublishConnection> connections, TimeProvider time)
    {
        using var limit = new CancellationTokenSource(LastAcknowledgements, time);
        foreach (var connection in connections)
        {
            try
            {
                await connection.DrainAsync(limit.Token).ConfigureAwait(false);
            }
            catch (Exception e) when (e is PublishFailedException or OperationCanceledException)
            {
                // What ended the sending is thrown already; only what was acknowledged counts here.
            }
        }
    }

    private static async Task<PublishResult> SendAllAsync(
        SimulatedFleet fleet,
        PublishOptions options,
        ResumeFile? resume,
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
        long number = 0;
        long messages = 0;
        long samples = 0;
        long bytes = 0;
        foreach (var message in fleet.Messages())
        {
            cancellationToken.ThrowIfCancellationRequested();
            var current = number++;
            if (current < (resume?.Done ?? 0))
            {
                continue;
            }

            firstUnixMs ??= message.SentUnixMs;
            if (options.Pace == PublishPace.Real)
            {
                var wait = TimeSpan.FromMilliseconds(message.SentUnixMs - firstUnixMs.Value) - time.GetElapsedTime(startedAt);
                if (wait > TimeSpan.Zero)
                {
                    await Task.Delay(wait, time, cancellationToken).ConfigureAwait(false);
                }
            }

            Action? acknowledged = resume is null ? null : () => resume.Acknowledge(current);
            await connections[placeOf[message.Truck]].SendAsync(message, acknowledged, cancellationToken).ConfigureAwait(false);
            messages++;
            samples += message.Samples;
            bytes += message.Payload.Length;
            if (messages % ProgressEvery == 0)
            {
                // A late upload may go out after the end.
                var share = Math.Min(1, (message.SentAt - fleet.Start) / (fleet.End - fleet.Start));
                progress?.Report(new PublishProgress(number, samples, message.SentAt, share));
            }
        }

        foreach (var connection in connections)
        {
            await connection.DrainAsync(cancellationToken).ConfigureAwait(false);
        }

        return new PublishResult(messages, samples, bytes) { PublishedBefore = number - messages };
    }
}
