using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;

namespace Vanehour.Host.Pages;

/// <summary>Analyses when a page asks for it, in a process of its own. What is asked for while one is at work is answered by one more after it.</summary>
/// <param name="data">The data folder.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">Where failures are said.</param>
internal sealed class AnalysisOnRequest(DataFolder data, TimeProvider time, ILogger logger) : IAsyncDisposable
{
    // Somebody who records three jobs in a row gets one analysis, not three; and another process may have the lease for a while.
    private static readonly TimeSpan Gather = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan TryAgain = TimeSpan.FromSeconds(20);
    private const int MostTries = 15;

    private readonly CancellationTokenSource stop = new();
    private readonly Lock gate = new();
    private Task work = Task.CompletedTask;
    private bool isAsked;

    /// <summary>Whether one is waiting or at work.</summary>
    public bool IsAtWork
    {
        get
        {
            lock (gate)
            {
                return !work.IsCompleted;
            }
        }
    }

    /// <summary>What the last one failed with; null where it did not.</summary>
    public string? Problem { get; private set; }

    /// <summary>Asks for one.</summary>
    public void Ask()
    {
        lock (gate)
        {
            isAsked = true;
            if (work.IsCompleted && !stop.IsCancellationRequested)
            {
                work = Task.Run(WorkAsync);
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        try
        {
            await work;
        }
        catch (OperationCanceledException)
        {
            // That is what was asked for.
        }

        stop.Dispose();
    }

    private async Task WorkAsync()
    {
        while (true)
        {
            await Task.Delay(Gather, time, stop.Token);
            lock (gate)
            {
                if (!isAsked)
                {
                    return;
                }

                isAsked = false;
            }

            // The clock of an invented fleet stands where its data end.
            var asOf = FolderMarks.IsInvented(data.Folder) ? data.Results.LatestAsOf() : null;
            for (var tries = 1; ; tries++)
            {
                Problem = await AnalysisScheduler.AnalyseAsync(data, asOf, time, logger, stop.Token);
                if (Problem is null || tries == MostTries || !Problem.Contains("Another analysis is at work", StringComparison.Ordinal))
                {
                    break;
                }

                await Task.Delay(TryAgain, time, stop.Token);
            }
        }
    }
}
