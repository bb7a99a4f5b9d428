using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Servers;

/// <summary>Debian's influxd on loopback ports of its own, with its files in a folder of its own; it can be stopped, killed and started again on what it had stored.</summary>
internal sealed class Influxd : IAsyncDisposable
{
    private static readonly string[] Places = ["/usr/bin/influxd", "/usr/local/bin/influxd", "/opt/homebrew/bin/influxd"];

    private readonly string folder;
    private readonly int rpcPort = FreePort();
    private readonly HttpClient http = new();
    private ChildProcess? process;

    private Influxd(string folder) => this.folder = folder;

    /// <summary>The program, or null where it is not installed.</summary>
    public static string? Program => Array.Find(Places, File.Exists);

    /// <summary>The database that everything goes to.</summary>
    public static string Bucket => "vanehour";

    public int Port { get; } = FreePort();

    public string Url => string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{Port}");

    /// <summary>Starts one on an empty folder and makes the database.</summary>
    public static async Task<Influxd> StartAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        var server = new Influxd(folder);
        await File.WriteAllTextAsync(Path.Combine(folder, "influxdb.conf"), server.Configuration());
        await server.StartAgainAsync();
        using var form = new FormUrlEncodedContent([new KeyValuePair<string, string>("q", $"CREATE DATABASE {Bucket}")]);
        using var answer = await server.http.PostAsync(new Uri(server.Url + "/query"), form);
        answer.EnsureSuccessStatusCode();
        return server;
    }

    public async Task StartAgainAsync()
    {
        process = ChildProcess.Start(Program ?? throw new InvalidOperationException("influxd is not installed."), ["-config", Path.Combine(folder, "influxdb.conf")]);
        for (var i = 0; i < 3000 && !process.HasExited; i++)
        {
            try
            {
                using var answer = await http.GetAsync(new Uri(Url + "/ping"));
                return;
            }
            catch (HttpRequestException)
            {
                await Task.Delay(20);
            }
        }

        throw new InvalidOperationException("influxd did not start: " + string.Join(" | ", process.Lines.TakeLast(5)));
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

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

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
