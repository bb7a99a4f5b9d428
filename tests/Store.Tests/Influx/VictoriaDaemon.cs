using System.Diagnostics;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Tests.Loopback;

namespace Vanehour.Store.Tests.Influx;

/// <summary>
/// Debian's victoria-metrics on a loopback port and in a folder of its own: another server that takes InfluxDB's line protocol on /api/v2/write. It knows
/// no InfluxQL, so it serves load and restarts of the write path; what it holds is read through its own export. Where the program is not installed tests are
/// skipped, unless the environment variable <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
/// <remarks>
/// It answers 204 once data are in its memory and writes them to disk about five seconds later (a setting in later versions than Debian 12's): killed, it loses what it
/// had answered for since. That is the server's promise, not the outbox's; InfluxDB keeps a write-ahead log and promises more.
/// </remarks>
public sealed class VictoriaDaemon : IAsyncDisposable
{
    private const int Terminate = 15;
    private const int StartAttempts = 5;
    private static readonly TimeSpan ShowLimit = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan StartLimit = TimeSpan.FromMinutes(2);
    private static readonly string[] Places = ["/usr/bin/victoria-metrics", "/usr/local/bin/victoria-metrics"];

    private readonly string program;
    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-victoria-").FullName;
    private readonly StringBuilder output = new();
    private readonly HttpClient http = new();
    private Process? process;

    private VictoriaDaemon(string program) => this.program = program;

    /// <summary>How long data stay in memory only, about; from its makers' documentation, from memory.</summary>
    public static TimeSpan FlushInterval { get; } = TimeSpan.FromSeconds(5);

    public string Url => $"http://127.0.0.1:{Port}";

    /// <summary>Whether it is not installed and may be missing.</summary>
    public static bool IsMissing => !Array.Exists(Places, File.Exists) && Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") != "1";

    private int Port { get; set; }

    /// <summary>Starts one, or skips the test.</summary>
    public static async Task<VictoriaDaemon> StartAsync()
    {
        Skip.If(IsMissing, "victoria-metrics is not installed.");
        var program = Array.Find(Places, File.Exists)
            ?? throw new InvalidOperationException("victoria-metrics is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
        var daemon = new VictoriaDaemon(program);
        for (var i = 0; i < StartAttempts; i++)
        {
            // A port that another took since it was chosen ends it at once: another is tried.
            daemon.Port = FreePort.Choose();
            if (await daemon.TryStartAsync())
            {
                return daemon;
            }
        }

        daemon.Fail();
        return daemon;
    }

    /// <summary>Starts it again on what it had stored.</summary>
    public async Task StartAgainAsync()
    {
        if (!await TryStartAsync())
        {
            Fail();
        }
    }

    /// <summary>Asks it to end, which it does once everything is on disk.</summary>
    public async Task StopAsync()
    {
        Assert.Equal(0, Kill(process!.Id, Terminate));
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(60));
    }

    /// <summary>Ends it without warning.</summary>
    public async Task KillAsync()
    {
        process!.Kill();
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(60));
    }

    /// <summary>The values it holds of a truck's signal, in order of time, as soon as it shows all that it was given; what it shows after a while all the same.</summary>
    public async Task<List<(long AtMs, double Value)>> ValuesAsync(string truck, Signal signal, IReadOnlyCollection<(long AtMs, double Value)> given)
    {
        // On a busy machine it was seen to show what it had taken in only some time after it was asked to.
        var watch = Stopwatch.StartNew();
        while (true)
        {
            var values = await ValuesAsync(truck, signal);
            if (!given.Except(values).Any() || watch.Elapsed > ShowLimit)
            {
                return values;
            }

            await Task.Delay(200);
        }
    }

    /// <summary>The values it shows of a truck's signal now, in order of time.</summary>
    public async Task<List<(long AtMs, double Value)>> ValuesAsync(string truck, Signal signal)
    {
        // What is young becomes visible at once only when asked to.
        using (await http.GetAsync(new Uri(Url + "/internal/force_flush")))
        {
        }

        var match = Uri.EscapeDataString($"pump_{SignalInfo.Of(signal).Name}{{truck=\"{truck}\"}}");
        var values = new List<(long, double)>();
        await foreach (var line in File.ReadLinesAsync(await DownloadAsync($"/api/v1/export?match[]={match}")))
        {
            using var json = JsonDocument.Parse(line);
            values.AddRange(json.RootElement.GetProperty("timestamps").EnumerateArray().Select(t => t.GetInt64())
                .Zip(json.RootElement.GetProperty("values").EnumerateArray().Select(v => v.GetDouble())));
        }

        return [.. values.OrderBy(v => v.Item1)];
    }

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

    [DllImport("libc", EntryPoint = "kill")]
    private static extern int Kill(int process, int signal);

    private async Task<bool> TryStartAsync()
    {
        process?.Dispose();
        process = new Process
        {
            StartInfo = new ProcessStartInfo(program,
            [
                $"-httpListenAddr=127.0.0.1:{Port}", $"-storageDataPath={Path.Combine(folder, "data")}", "-retentionPeriod=100y", "-loggerLevel=ERROR",
            ])
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
                using var answer = await http.GetAsync(new Uri(Url + "/health"));
                if (answer.IsSuccessStatusCode)
                {
                    return !process.HasExited;
                }
            }
            catch (HttpRequestException)
            {
                // Not yet.
            }

            await Task.Delay(20);
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
            Assert.Fail($"victoria-metrics did not start: {output}");
        }
    }

    private async Task<string> DownloadAsync(string path)
    {
        var file = Path.Combine(folder, "export");
        await using var body = await http.GetStreamAsync(new Uri(Url + path));
        await using var target = File.Create(file);
        await body.CopyToAsync(target);
        return file;
    }

    private void Keep(object sender, DataReceivedEventArgs e)
    {
        lock (output)
        {
            output.AppendLine(e.Data);
        }
    }
}
