using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;

namespace Vanehour.Bench.Faults.Workers;

/// <summary>A program of ours that runs beside us, with what it prints. It is killed when disposed.</summary>
internal sealed class ChildProcess : IAsyncDisposable
{
    private readonly Process process;
    private readonly ConcurrentQueue<string> lines = new();

    private ChildProcess(Process process) => this.process = process;

    public int Id => process.Id;

    public bool HasExited => process.HasExited;

    public int ExitCode => process.ExitCode;

    /// <summary>Lines printed so far, both streams.</summary>
    public IReadOnlyCollection<string> Lines => lines;

    /// <summary>Processor time used so far; of a program that has ended, all it used.</summary>
    public TimeSpan ProcessorTime
    {
        get
        {
            process.Refresh();
            return process.TotalProcessorTime;
        }
    }

    /// <summary>Memory it holds now.</summary>
    public long MemoryBytes
    {
        get
        {
            process.Refresh();
            return process.WorkingSet64;
        }
    }

    /// <summary>Starts a program.</summary>
    public static ChildProcess Start(string program, IEnumerable<string> arguments)
    {
        var child = new ChildProcess(new Process
        {
            StartInfo = new ProcessStartInfo(program, arguments) { RedirectStandardError = true, RedirectStandardOutput = true },
        });
        child.process.OutputDataReceived += child.Keep;
        child.process.ErrorDataReceived += child.Keep;
        child.process.Start();
        child.process.BeginOutputReadLine();
        child.process.BeginErrorReadLine();
        return child;
    }

    /// <summary>SIGKILL.</summary>
    public async Task KillAsync()
    {
        process.Kill();
        await WaitAsync(TimeSpan.FromSeconds(60));
    }

    /// <summary>SIGTERM, and waits until it has ended.</summary>
    public async Task StopAsync()
    {
        using var kill = Process.Start("kill", ["-TERM", process.Id.ToString(CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync();
        await WaitAsync(TimeSpan.FromSeconds(60));
    }

    /// <summary>Waits until it has ended by itself.</summary>
    public Task WaitAsync(TimeSpan limit) => process.WaitForExitAsync().WaitAsync(limit);

    /// <summary>Waits for a line that holds <paramref name="text"/>.</summary>
    /// <param name="text">What to look for.</param>
    /// <param name="limit">How long.</param>
    /// <param name="times">How many such lines.</param>
    /// <returns>False when it has not come in time, or the program has ended without.</returns>
    public async Task<bool> SaysAsync(string text, TimeSpan limit, int times = 1)
    {
        var clock = Stopwatch.StartNew();
        while (Count(text) < times)
        {
            if (clock.Elapsed > limit || process.HasExited)
            {
                return Count(text) >= times;
            }

            await Task.Delay(10);
        }

        return true;
    }

    /// <summary>How many lines hold <paramref name="text"/>.</summary>
    public int Count(string text) => lines.Count(l => l.Contains(text, StringComparison.Ordinal));

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            await KillAsync();
        }

        process.Dispose();
    }

    private void Keep(object sender, DataReceivedEventArgs e)
    {
        if (e.Data is { } line)
        {
            lines.Enqueue(line);
        }
    }
}
