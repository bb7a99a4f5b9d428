using System.Text.Json;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Findings;
using Vanehour.Models.Watching;
using Vanehour.Reports.Words;
using Vanehour.Store;
using Vanehour.Store.Influx;

namespace Vanehour.Host.Serving;

/// <summary>Lets the watch of limits look every few seconds. A store that is away is said once, and looked at again.</summary>
/// <param name="watch">The watch.</param>
/// <param name="every">Time between two looks.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">Where it is said.</param>
public sealed partial class LimitWatchService(LimitWatch watch, TimeSpan every, TimeProvider time, ILogger<LimitWatchService> logger) : BackgroundService
{
    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var isAway = false;
        using var timer = new PeriodicTimer(every, time);
        do
        {
            try
            {
                foreach (var finding in await watch.LookAsync(stoppingToken))
                {
                    Raised(logger, finding.Truck, finding.Kind, string.Join("; ", finding.Evidence.Select(e => EvidenceText.Of(e, isTrade: false))), finding.Id);
                }

                isAway = false;
            }
            catch (Exception e) when (e is StoreUnavailableException or InfluxException or DatabaseException or JsonException)
            {
                if (!isAway)
                {
                    Away(logger, e.Message);
                }

                isAway = true;
            }
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "STOP {Truck}: {Kind}, {Evidence} (finding {Id})")]
    private static partial void Raised(ILogger logger, string? truck, FindingKind kind, string evidence, string id);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Limits cannot be watched now: {Reason}")]
    private static partial void Away(ILogger logger, string reason);
}
