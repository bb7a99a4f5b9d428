using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;

namespace Vanehour.Host.Pages;

/// <summary>Analyses when a page asks for it, in a process of its own. What is asked for while one is at work is answered by one more after it.</summary>
/// <param name="data">The data folder.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">Where failures are said.</param>
internal sealed partial class AnalysisOnRequest(DataFolder data, TimeProvider time, ILogger logger) : IAsyncDisposable
{
    // Somebody who records three jobs in a row gets one analysis, not three; and another process may have the lease for a while.
    private static readonly TimeSpan Gather = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan TryAgain = TimeSpan.FromSeconds(20);
    private const int MostTries = 20;

    private readonly CancellationTokenSource stop = new();
    private readonly Lock gate = new();
    private Task work = Task.CompletedTask;
    private bool isWorking;
    private bool isAsked;
    private string? problem;

    /// <summary>Whether one is waiting or at work.</summary>
    public bool IsAtWork
    {
        get
        {
            lock (gate)
            {
                return isWorking;
            }
        }
    }

    /// <summary>What the last one failed with; null where it did not, and while another is at work.</summary>
    public string? Problem
    {
        get
        {
            lock (gate)
            {
                return isWorking ? null : problem;
            }
        }
    }

    /// <summary>How many were made.</summary>
    public int Finished { get; private set; }

    /// <summary>Asks for one.</summary>
    public void Ask()
    {
        lock (gate)
        {
            isAsked = true;
            if (!isWorking && !stop.IsCancellationRequested)
            {
                isWorking = true;
                work = Task.Run(WorkAsync);
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        await work;
        stop.Dispose();
    }

    private async Task WorkAsync()
    {
        while (true)
        {
            string? failed;
            try
            {
                await Task.Delay(Gather, time, stop.Token);
                lock (gate)
                {
                    isAsked = false;
                }

                failed = await AnalyseAsync();
            }
            catch (OperationCanceledException)
            {
                failed = null;
            }
            catch (Exception e)
            {
                // Whatever it is, the pages say it, and the next one who asks tries again.
                Failed(logger, e);
                failed = e.Message;
            }

            lock (gate)
            {
                problem = failed;
                Finished++;
                if (!isAsked || stop.IsCancellationRequested)
                {
                    isWorking = false;
                    return;
                }
            }
        }
    }

    private async Task<string?> AnalyseAsync()
    {
        // The clock of an invented fleet stands where its data end.
        var asOf = FolderMarks.IsInvented(data.Folder) ? data.Results.LatestAsOf() : null;
        for (var tries = 1; ; tries++)
        {
            var failed = await AnalysisScheduler.AnalyseAsync(data, asOf, time, logger, stop.Token);
            if (failed is null || tries == MostTries || !failed.Contains(AnalysisJob.Busy, StringComparison.Ordinal))
            {
                return failed;
            }

            await Task.Delay(TryAgain, time, stop.Token);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "An analysis that was asked for could not be made")]
    private static partial void Failed(ILogger logger, Exception problem);
}
