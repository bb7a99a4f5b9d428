using System.Diagnostics;
using System.Globalization;
using Vanehour.Bench.Faults.Workers;
using Vanehour.Tests.Loopback;

namespace Vanehour.Bench.Faults.Servers;

/// <summary>Debian's influxd on loopback ports of its own, with its files in a folder of its own; it can be stopped, killed and started again on what it had stored.</summary>
internal sealed class Influxd : IAsyncDisposable
{
    private const int StartAttempts = 5;
    private static readonly TimeSpan StartLimit = TimeSpan.FromMinutes(2);
    private static readonly string[] Places = ["/usr/bin/influxd", "/usr/local/bin/influxd", "/opt/homebrew/bin/influxd"];

    private readonly string folder;
    private readonly HttpClient http = new();
    private int rpcPort;
    private ChildProcess? process;

    private Influxd(string folder) => this.folder = folder;

    /// <summary>The program, or null where it is not installed.</summary>
    public static string? Program => Array.Find(Places, File.Exists);

    /// <summary>The database that everything goes to.</summary>
    public static string Bucket => "vanehour";

    public int Port { get; private set; }

    public string Url => string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{Port}");

    /// <summary>Starts one on an empty folder and makes the database.</summary>
    public static async Task<Influxd> StartAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        var server = new Influxd(folder);
        await server.StartOnFreePortsAsync();
        using var form = new FormUrlEncodedContent([new KeyValuePair<string, string>("q", $"CREATE DATABASE {Bucket}")]);
        using var answer = await server.http.PostAsync(new Uri(server.Url + "/query"), form);
        answer.EnsureSuccessStatusCode();
        return server;
    }

    public async Task StartAgainAsync()
    {
        if (!await TryStartAsync())
        {
            throw NotStarted();
        }
    }

    /// <summary>Asks it to end.</summary>
    public Task StopAsync() => process!.StopAsync();

    /// <summary>Ends it without warning.</summary>
    public Task KillAsync() => process!.KillAsync();

    public async ValueTask DisposeAsync()
    {
        if (process is not null)
        {
            await process.DisposeAsync();
        }

        http.Dispose();
    }

    private async Task StartOnFreePortsAsync()
    {
        for (var i = 0; i < StartAttempts; i++)
        {
            // Ports that another took since they were chosen end it at once: others are tried.
            (Port, rpcPort) = (FreePort.Choose(), FreePort.Choose());
            await File.WriteAllTextAsync(Path.Combine(folder, "influxdb.conf"), Configuration());
            if (await TryStartAsync())
            {
                return;
            }
        }

        throw NotStarted();
    }

    private async Task<bool> TryStartAsync()
    {
        if (process is not null)
        {
            await process.DisposeAsync();
        }

        process = ChildProcess.Start(Program ?? throw new InvalidOperationException("influxd is not installed."), ["-config", Path.Combine(folder, "influxdb.conf")]);
        var clock = Stopwatch.StartNew();
        while (clock.Elapsed < StartLimit && !process.HasExited)
        {
            try
            {
                using var answer = await http.GetAsync(new Uri(Url + "/ping"));
                return !process.HasExited;
            }
            catch (HttpRequestException)
            {
                await Task.Delay(20);
            }
        }

        return false;
    }

    private InvalidOperationException NotStarted() => new("influxd did not start: " + string.Join(" | ", process!.Lines.TakeLast(5)));

    private string Configuration() => string.Create(
        CultureInfo.InvariantCulture,
        $"""
        reporting-disabled = true
        bind-address = "127.0.0.1:{rpcPort}"
        [meta]
          dir = "{folder}/meta"
        [data]
          dir = "{folder}/data"
          wal-dir = "{folder}/wal"
          query-log-enabled = false
        [http]
          bind-address = "127.0.0.1:{Port}"
          log-enabled = false
        [logging]
          level = "error"
        [monitor]
          store-enabled = false
        """);
}
