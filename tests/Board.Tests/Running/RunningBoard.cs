using System.Diagnostics;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.RegularExpressions;
using Vanehour.Host;

namespace Vanehour.Board.Tests.Running;

/// <summary>The program's command 'board' in a process of its own, over a data folder, on a port that the system chose.</summary>
internal sealed partial class RunningBoard : IAsyncDisposable
{
    private const int Terminate = 15;
    private static readonly TimeSpan StartLimit = TimeSpan.FromMinutes(1);

    private readonly Process process;
    private readonly StringBuilder errors;

    private RunningBoard(string folder, Process process, StringBuilder errors, Uri address)
    {
        Folder = folder;
        this.process = process;
        this.errors = errors;
        Address = address;
    }

    /// <summary>Its data folder.</summary>
    public string Folder { get; }

    /// <summary>Where it listens, as it said itself.</summary>
    public Uri Address { get; }

    /// <summary>What it wrote to the standard error so far.</summary>
    public string Errors
    {
        get
        {
            lock (errors)
            {
                return errors.ToString();
            }
        }
    }

    /// <summary>Starts it.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="settings">Settings, as section, two underscores and key.</param>
    public static async Task<RunningBoard> StartAsync(string folder, params (string Key, string Value)[] settings)
    {
        var (process, errors) = Start(folder, settings);
        using var limit = new CancellationTokenSource(StartLimit);
        var line = await process.StandardOutput.ReadLineAsync(limit.Token);
        if (line is null || Said().Match(line) is not { Success: true } said)
        {
            await process.WaitForExitAsync(limit.Token);
            throw new InvalidOperationException($"The Board did not start: {line} {errors}");
        }

        return new RunningBoard(folder, process, errors, new Uri(said.Groups["address"].Value));
    }

    /// <summary>Starts one that must refuse, and gives what it said.</summary>
    public static async Task<(int Code, string Error)> RefusedAsync(string folder, params (string Key, string Value)[] settings)
    {
        var (process, errors) = Start(folder, settings);
        using (process)
        {
            using var limit = new CancellationTokenSource(StartLimit);
            var line = await process.StandardOutput.ReadLineAsync(limit.Token);
            if (line is not null)
            {
                process.Kill();
                Assert.Fail($"It started: {line}");
            }

            await process.WaitForExitAsync(limit.Token);
            return (process.ExitCode, errors.ToString());
        }
    }

    /// <summary>Stops it as an operator does, which ends in code 0.</summary>
    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            _ = Kill(process.Id, Terminate);
            try
            {
                await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(45));
            }
            catch (TimeoutException)
            {
                process.Kill(entireProcessTree: true);
                throw;
            }
        }

        process.Dispose();
    }

    [DllImport("libc", EntryPoint = "kill")]
    private static extern int Kill(int process, int signal);

    [GeneratedRegex("The Board is at (?<address>https?://[^ ]+) ")]
    private static partial Regex Said();

    private static (Process Process, StringBuilder Errors) Start(string folder, (string Key, string Value)[] settings)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(Cli).Assembly.Location, "board", "--data", folder, "--board-port", "0"]) { RedirectStandardError = true, RedirectStandardOutput = true };
        foreach (var (key, value) in settings)
        {
            start.Environment["VANEHOUR__" + key] = value;
        }

        var errors = new StringBuilder();
        var process = new Process { StartInfo = start };
        process.ErrorDataReceived += (_, e) =>
        {
            lock (errors)
            {
                errors.AppendLine(e.Data);
            }
        };
        process.Start();
        process.BeginErrorReadLine();
        return (process, errors);
    }
}
