using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;
using Vanehour.Store.Outbox;

namespace Vanehour.Host.Serving;

/// <summary>Runs the forwarder beside the worker and says in the log how it gets on: a line for each change of state, none for each batch.</summary>
/// <param name="remote">The server and the outbox.</param>
/// <param name="metrics">Asked for so that the instruments exist.</param>
/// <param name="logger">Where it is said.</param>
public sealed partial class ForwardingService(RemoteStore remote, ForwardingMetrics metrics, ILogger<ForwardingService> logger) : BackgroundService
{
    private ForwardingState last = ForwardingState.Idle;

    /// <summary>The metrics that are kept.</summary>
    public ForwardingMetrics Metrics => metrics;

    /// <inheritdoc/>
    public override async Task StartAsync(CancellationToken cancellationToken)
    {
        if (await remote.CheckAsync(cancellationToken) is { } problem)
        {
            NotReady(logger, problem);
        }

        await base.StartAsync(cancellationToken);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        remote.Forwarder.Changed += Say;
        try
        {
            await remote.Forwarder.RunAsync(stoppingToken);
        }
        finally
        {
            remote.Forwarder.Changed -= Say;
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "What arrives is kept in the outbox for now: {Problem}")]
    private static partial void NotReady(ILogger logger, string problem);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Forwarding waits and tries again, {Samples} samples in the outbox: {Problem}")]
    private static partial void Waiting(ILogger logger, long samples, string? problem);

    [LoggerMessage(Level = LogLevel.Error, Message = "Forwarding stops until somebody acts, {Samples} samples in the outbox: {Problem}")]
    private static partial void Stopped(ILogger logger, long samples, string? problem);

    [LoggerMessage(Level = LogLevel.Information, Message = "Forwarding again, {Samples} samples in the outbox")]
    private static partial void Again(ILogger logger, long samples);

    [LoggerMessage(Level = LogLevel.Information, Message = "Another process on this data folder forwards; this one stands by")]
    private static partial void StandingBy(ILogger logger);

    private void Say(ForwardingStatus status)
    {
        switch (status.State)
        {
            case ForwardingState.Waiting:
                Waiting(logger, status.Backlog.Samples, status.Problem);
                break;
            case ForwardingState.Stopped:
                Stopped(logger, status.Backlog.Samples, status.Problem);
                break;
            case ForwardingState.StandingBy:
                StandingBy(logger);
                break;
            case ForwardingState.Idle or ForwardingState.Forwarding when last is ForwardingState.Waiting or ForwardingState.Stopped:
                Again(logger, status.Backlog.Samples);
                break;
            default:
                break;
        }

        last = status.State;
    }
}
