using System.ComponentModel;
using System.Diagnostics;
using System.Reflection;

namespace Vanehour.Host.Serving;

/// <summary>This program once more, as a process of its own with low priority: what it takes of memory and time is not taken from the intake.</summary>
internal static class OwnProcess
{
    /// <summary>Runs a command to its end.</summary>
    /// <param name="arguments">The command line.</param>
    /// <param name="cancellationToken">Ends the process.</param>
    /// <exception cref="Win32Exception">It could not be started.</exception>
    public static async Task<(int ExitCode, string Output, string Error)> RunAsync(IEnumerable<string> arguments, CancellationToken cancellationToken)
    {
        var start = new ProcessStartInfo { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
        start.FileName = Environment.ProcessPath ?? throw new InvalidOperationException("The process has no path.");
        if (Path.GetFileNameWithoutExtension(start.FileName).Equals("dotnet", StringComparison.OrdinalIgnoreCase))
        {
            start.ArgumentList.Add(Assembly.GetExecutingAssembly().Location);
        }

        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start) ?? throw new InvalidOperationException("The process did not start.");
        LowerPriority(process);
        try
        {
            var output = process.StandardOutput.ReadToEndAsync(cancellationToken);
            var error = await process.StandardError.ReadToEndAsync(cancellationToken);
            await process.WaitForExitAsync(cancellationToken);
            return (process.ExitCode, await output, error);
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill(entireProcessTree: true);
            }
        }
    }

    private static void LowerPriority(Process process)
    {
        try
        {
            process.PriorityClass = ProcessPriorityClass.BelowNormal;
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException)
        {
            // It ended already, or the system does not let us: then it runs as it is.
        }
    }
}
