using System.Diagnostics;
using System.Globalization;
using System.Text;
using Vanehour.Tests.Loopback;

namespace Vanehour.Store.Tests.Influx;

/// <summary>
/// Debian's influxd on loopback ports of its own, with its files in a folder of its own. It can be killed and started again on what it had stored.
/// Where the program is not installed tests are skipped, unless the environment variable <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
public sealed class InfluxDaemon : IAsyncDisposable
{
    private const int StartAttempts = 5;
    private static readonly TimeSpan StartLimit = TimeSpan.FromMinutes(2);
    private static readonly string[] Places = ["/usr/bin/influxd", "/usr/local/bin/influxd", "/opt/homebrew/bin/influxd"];

    private readonly string program;
    private readonly string folder;
    private readonly StringBuilder output = new();
    private readonly HttpClient http = new();
    private int rpcPort;
    private Process? process;

    private InfluxDaemon(string program)
    {
        this.program = program;
        folder = Directory.CreateTempSubdirectory("vanehour-influxd-").FullName;
    }

    /// <summary>The port on loopback; stays the same over restarts.</summary>
    public int Port { get; private set; }

    public string Url => $"http://127.0.0.1:{Port}";

    /// <summary>Whether it is not installed and may be missing.</summary>
    public static bool IsMissing => !Array.Exists(Places, File.Exists) && Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") != "1";

    /// <summary>Starts one.</summary>
    public static async Task<InfluxDaemon> StartAsync()
    {
        var program = Array.Find(Places, File.Exists) ?? throw new InvalidOperationException("influxd is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
        var daemon = new InfluxDaemon(program);
        for (var i = 0; i < StartAttempts; i++)
        {
            // Ports that another took since they were chosen end it at once: others are tried.
            (daemon.Port, daemon.rpcPort) = (FreePort.Choose(), FreePort.Choose());
            await File.WriteAllTextAsync(Path.Combine(daemon.folder, "influxdb.conf"), daemon.Configuration());
            if (await daemon.TryStartAsync())
            {
                return daemon;
            }
        }

        daemon.Fail();
        return daemon;
    }

    /// <summary>Starts it again after <see cref="KillAsync"/>.</summary>
    public async Task StartAgainAsync()
    {
        if (!await TryStartAsync())
        {
            Fail();
        }
    }

    /// <summary>Ends it without warning.</summary>
    public async Task KillAsync()
    {
        process!.Kill();
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(60));
    }

    /// <summary>Makes a database of a name of its own.</summary>
    public async Task<string> CreateDatabaseAsync()
    {
        var name = "d" + Guid.NewGuid().ToString("N");
        await ExecuteAsync($"CREATE DATABASE {name}");
        return name;
    }

    /// <summary>Runs a statement that changes something, in a database where it needs one.</summary>
    public async Task ExecuteAsync(string statement, string? database = null)
    {
        using var form = new FormUrlEncodedContent([new KeyValuePair<string, string>("q", statement)]);
        using var answer = await http.PostAsync(new Uri(Url + "/query" + (database is null ? string.Empty : "?db=" + database)), form);
        answer.EnsureSuccessStatusCode();
        Assert.DoesNotContain("\"error\"", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    public Task DropDatabaseAsync(string name) => ExecuteAsync($"DROP DATABASE {name}");

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            await KillAsync();
        }

        process?.Dispose();
        http.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private async Task<bool> TryStartAsync()
    {
        process?.Dispose();
        process = new Process
        {
            StartInfo = new ProcessStartInfo(program, ["-config", Path.Combine(folder, "influxdb.conf")])
            {
                RedirectStandardError = true,
                RedirectStandardOutput = true,
            },
        };
        process.ErrorDataReceived += Keep;
        process.OutputDataReceived += Keep;
        process.Start();
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        var watch = Stopwatch.StartNew();
        while (watch.Elapsed < StartLimit && !process.HasExited)
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

        if (!process.HasExited)
        {
            await KillAsync();
        }

        return false;
    }

    private void Fail()
    {
        lock (output)
        {
            Assert.Fail($"influxd did not start: {output}");
        }
    }

    private void Keep(object sender, DataReceivedEventArgs e)
    {
        lock (output)
        {
            output.AppendLine(e.Data);
        }
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
        [monitor]
          store-enabled = false
        [logging]
          level = "error"
          suppress-logo = true
        """);
}
