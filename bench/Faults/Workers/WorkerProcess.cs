using System.Globalization;

namespace Vanehour.Bench.Faults.Workers;

/// <summary>A real <c>vanehour ingest</c>, as a company runs it.</summary>
internal static class WorkerProcess
{
    /// <summary>What it logs once its subscription stands.</summary>
    public const string ConnectedLine = "Connected to mqtt://";

    /// <summary>The executable beside this program.</summary>
    public static string Executable => Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "vanehour.exe" : "vanehour");

    /// <summary>Starts a worker on a broker's port; does not wait for anything.</summary>
    public static ChildProcess Start(WorkerSettings settings, int port)
    {
        settings.Write();
        return Launch(settings, port);
    }

    /// <summary>Starts a worker whose settings are written already.</summary>
    public static ChildProcess Launch(WorkerSettings settings, int port)
    {
        var arguments = new List<string>
        {
            "ingest", "--data", settings.Folder, "--broker", string.Create(CultureInfo.InvariantCulture, $"mqtt://127.0.0.1:{port}"),
        };
        if (settings.Share is { } share)
        {
            arguments.AddRange(["--share", share]);
        }

        return ChildProcess.Start(Executable, arguments);
    }

    /// <summary>Waits until a worker is connected.</summary>
    /// <exception cref="InvalidOperationException">It is not in time.</exception>
    public static async Task ConnectedAsync(this ChildProcess worker, int times = 1)
    {
        if (!await worker.SaysAsync(ConnectedLine, TimeSpan.FromMinutes(3), times))
        {
            throw new InvalidOperationException("A worker did not connect: " + string.Join(" | ", worker.Lines.TakeLast(5)));
        }
    }
}
