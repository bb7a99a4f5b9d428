using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Brokers;

/// <summary>A mosquitto of our own on loopback, run with the shipped configuration, of which the port and the folder are replaced.</summary>
internal sealed class Mosquitto : IAsyncDisposable
{
    private static readonly string[] Places = ["/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto", "/usr/bin/mosquitto", "/opt/homebrew/sbin/mosquitto"];

    private readonly string program;
    private readonly string folder;
    private ChildProcess? process;

    private Mosquitto(string program, string folder, int port)
    {
        this.program = program;
        this.folder = folder;
        Port = port;
    }

    /// <summary>Where the program is, or null.</summary>
    public static string? Program => Array.Find(Places, File.Exists);

    public int Port { get; }

    /// <summary>The running broker.</summary>
    public ChildProcess Process => process ?? throw new InvalidOperationException("The broker does not run.");

    /// <summary>Starts a broker.</summary>
    /// <param name="folder">Its own folder.</param>
    /// <param name="overrides">Settings that replace those of the shipped file, by name.</param>
    public static async Task<Mosquitto> StartAsync(string folder, IReadOnlyDictionary<string, string>? overrides = null)
    {
        var program = Program ?? throw new InvalidOperationException("mosquitto is not installed.");
        Directory.CreateDirectory(folder);
        var broker = new Mosquitto(program, folder, FreePort());
        await broker.WriteConfigurationAsync(overrides ?? new Dictionary<string, string>());
        await broker.StartAgainAsync();
        return broker;
    }

    /// <summary>Starts it on the same port with what it had saved.</summary>
    public async Task StartAgainAsync()
    {
        process = ChildProcess.Start(program, ["-c", Path.Combine(folder, "mosquitto.conf")]);
        for (var i = 0; i < 1500 && !process.HasExited; i++)
        {
            using var probe = new TcpClient();
            try
            {
                await probe.ConnectAsync(IPAddress.Loopback, Port);
                return;
            }
            catch (SocketException)
            {
                await Task.Delay(20);
            }
        }

        throw new InvalidOperationException("mosquitto did not start: " + string.Join(" | ", process.Lines.TakeLast(5)));
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

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

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
