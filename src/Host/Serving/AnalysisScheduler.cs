using System.ComponentModel;
using System.Globalization;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Serving;

/// <summary>
/// Starts an analysis now and then as a process of its own with low priority, so that a refit cannot starve the intake and its failure cannot stop it.
/// </summary>
/// <param name="data">The data folder.</param>
/// <param name="every">Time between the starts; a start is left out while the one before still runs.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">Where failures are said.</param>
public sealed partial class AnalysisScheduler(DataFolder data, TimeSpan every, TimeProvider time, ILogger<AnalysisScheduler> logger) : BackgroundService
{
    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(every, time);
        do
        {
            await AnalyseAsync(data, asOf: null, time, logger, stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The analysis could not be started: {Reason}")]
    private static partial void NotStarted(ILogger logger, string reason);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The analysis ended with code {ExitCode}: {Output}")]
    private static partial void Failed(ILogger logger, int exitCode, string output);

    [LoggerMessage(Level = LogLevel.Information, Message = "Analysed in {Seconds:0.0} s")]
    private static partial void Done(ILogger logger, double seconds);

    /// <summary>Analyses once, in a process of its own.</summary>
    /// <param name="data">The data folder.</param>
    /// <param name="asOf">As of when; null: now.</param>
    /// <param name="time">The clock.</param>
    /// <param name="logger">Where it is said how it went.</param>
    /// <param name="cancellationToken">Ends the process.</param>
    /// <returns>What it failed with; null where it did not.</returns>
    internal static async Task<string?> AnalyseAsync(DataFolder data, DateTimeOffset? asOf, TimeProvider time, ILogger logger, CancellationToken cancellationToken)
    {
        IEnumerable<string> until = asOf is { } instant ? ["--as-of", instant.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)] : [];
        var started = time.GetTimestamp();
        try
        {
            var (code, _, error) = await OwnProcess.RunAsync(["analyse", "--data", data.Folder, "--store", data.Store.ToString(), .. until], cancellationToken);
            if (code == ExitCode.Done)
            {
                var seconds = time.GetElapsedTime(started).TotalSeconds;
                Done(logger, seconds);
                return null;
            }

            var lines = error.Trim().ReplaceLineEndings(" | ");
            Failed(logger, code, lines);
            return lines;
        }
        catch (Win32Exception e)
        {
            NotStarted(logger, e.Message);
            return e.Message;
        }
    }
}
