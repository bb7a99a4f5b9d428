using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Tests.Loopback;

namespace Vanehour.Bench.Faults.Brokers;

/// <summary>A mosquitto of our own on loopback, run with the shipped configuration, of which the port and the folder are replaced.</summary>
internal sealed class Mosquitto : IAsyncDisposable
{
    private const int StartAttempts = 5;
    private static readonly TimeSpan StartLimit = TimeSpan.FromMinutes(2);
    private static readonly string[] Places = ["/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto", "/usr/bin/mosquitto", "/opt/homebrew/sbin/mosquitto"];

    private readonly string program;
    private readonly string folder;
    private ChildProcess? process;

    private Mosquitto(string program, string folder)
    {
        this.program = program;
        this.folder = folder;
    }

    /// <summary>Where the program is, or null.</summary>
    public static string? Program => Array.Find(Places, File.Exists);

    public int Port { get; private set; }

    /// <summary>The running broker.</summary>
    public ChildProcess Process => process ?? throw new InvalidOperationException("The broker does not run.");

    /// <summary>Starts a broker.</summary>
    /// <param name="folder">Its own folder.</param>
    /// <param name="overrides">Settings that replace those of the shipped file, by name.</param>
    public static async Task<Mosquitto> StartAsync(string folder, IReadOnlyDictionary<string, string>? overrides = null)
    {
        var program = Program ?? throw new InvalidOperationException("mosquitto is not installed.");
        Directory.CreateDirectory(folder);
        var broker = new Mosquitto(program, folder);
        for (var i = 0; i < StartAttempts; i++)
        {
            // A port that another took since it was chosen ends it at once: another is tried.
            broker.Port = FreePort.Choose();
            await broker.WriteConfigurationAsync(overrides ?? new Dictionary<string, string>());
            if (await broker.TryStartAsync())
            {
                return broker;
            }
        }

        throw broker.NotStarted();
    }

    /// <summary>Starts it on the same port with what it had saved.</summary>
    public async Task StartAgainAsync()
    {
        if (!await TryStartAsync())
        {
            throw NotStarted();
        }
    }

    /// <summary>Asks it to end: it saves first.</summary>
    public Task StopAsync() => Process.StopAsync();

    /// <summary>Ends it without warning: what it had not saved is gone.</summary>
    public Task KillAsync() => Process.KillAsync();

    public async ValueTask DisposeAsync()
    {
        if (process is not null)
        {
            await process.DisposeAsync();
        }
    }

    private async Task<bool> TryStartAsync()
    {
        if (process is not null)
        {
            await process.DisposeAsync();
        }

        process = ChildProcess.Start(program, ["-c", Path.Combine(folder, "mosquitto.conf")]);
        var clock = Stopwatch.StartNew();
        while (clock.Elapsed < StartLimit && !process.HasExited)
        {
            using var probe = new TcpClient();
            try
            {
                await probe.ConnectAsync(IPAddress.Loopback, Port);
                return !process.HasExited;
            }
            catch (SocketException)
            {
                await Task.Delay(20);
            }
        }

        return false;
    }

    private InvalidOperationException NotStarted() => new("mosquitto did not start: " + string.Join(" | ", Process.Lines.TakeLast(5)));

    private async Task WriteConfigurationAsync(IReadOnlyDictionary<string, string> overrides)
    {
        var replaced = overrides.Keys.Concat(["listener", "persistence_location", "log_dest", "user"]).ToHashSet(StringComparer.Ordinal);
        var shipped = await File.ReadAllLinesAsync(Path.Combine(AppContext.BaseDirectory, "mosquitto.conf"));
        var lines = shipped.Where(l => !replaced.Contains(l.Split(' ')[0]))
            .Concat(overrides.Select(o => $"{o.Key} {o.Value}"))
            .Append(string.Create(CultureInfo.InvariantCulture, $"listener {Port} 127.0.0.1"))
            .Append($"persistence_location {folder}/")
            .Append("log_dest stderr")
            .Append("log_type error");
        if (Environment.UserName == "root")
        {
            // Else it drops to a user of its own, who may not write here.
            lines = lines.Append("user root");
        }

        await File.WriteAllLinesAsync(Path.Combine(folder, "mosquitto.conf"), lines);
    }
}
