using System.Diagnostics;
using System.Globalization;
using System.Text;
using Vanehour.Tests.Loopback;

namespace Vanehour.Ingest.Tests.Brokers;

/// <summary>
/// A real mosquitto on a loopback port of its own, with its files in a folder of its own. It can be stopped, killed and started again on
/// the same port with the sessions it had saved. Where the program is not installed tests are skipped, unless the environment variable
/// <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
public sealed class MosquittoBroker : IAsyncDisposable
{
    private const int StartAttempts = 5;

    // For a machine that is busy with other tests.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private static readonly string[] Places = ["/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto", "/usr/bin/mosquitto", "/opt/homebrew/sbin/mosquitto"];

    private readonly string program;
    private readonly string folder;
    private readonly StringBuilder output = new();
    private Process? process;
    private volatile bool isRunning;

    private MosquittoBroker(string program, string folder)
    {
        this.program = program;
        this.folder = folder;
    }

    /// <summary>The port on loopback; stays the same over restarts.</summary>
    public int Port { get; private set; }

    private string Saved => Path.Combine(folder, "mosquitto.db");

    /// <summary>What the broker has printed.</summary>
    public string Output
    {
        get
        {
            lock (output)
            {
                return output.ToString();
            }
        }
    }

    /// <summary>Starts a broker, or skips the test.</summary>
    public static async Task<MosquittoBroker> StartAsync(MosquittoSettings? settings = null)
    {
        var program = Array.Find(Places, File.Exists);
        if (program is null)
        {
            var isRequired = Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1";
            Assert.False(isRequired, "mosquitto is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
            Skip.If(true, "mosquitto is not installed.");
        }

        var folder = Directory.CreateTempSubdirectory("vanehour-mosquitto-").FullName;
        var broker = new MosquittoBroker(program!, folder);
        for (var i = 0; i < StartAttempts; i++)
        {
            // A port that another took since it was chosen ends it at once: another is tried.
            broker.Port = FreePort.Choose();
            await broker.WriteFilesAsync(settings ?? new MosquittoSettings());
            if (await broker.TryStartAsync())
            {
                return broker;
            }
        }

        Assert.Fail($"mosquitto did not start: {broker.Output}");
        return broker;
    }

    /// <summary>Starts it again after <see cref="StopAsync"/> or <see cref="KillAsync"/>.</summary>
    public async Task StartAgainAsync() => Assert.True(await TryStartAsync(), $"mosquitto did not start: {Output}");

    /// <summary>Asks it to end; it saves its sessions first.</summary>
    public async Task StopAsync()
    {
        // Between saying that it runs and running, mosquitto 2.0.11 forgets a request to end: it is asked again.
        var watch = Stopwatch.StartNew();
        while (!process!.HasExited && watch.Elapsed < Patience)
        {
            using var kill = Process.Start("/bin/sh", ["-c", string.Create(CultureInfo.InvariantCulture, $"kill -TERM {process.Id}")]);
            for (var i = 0; i < 200 && !process.HasExited; i++)
            {
                await Task.Delay(10);
            }
        }

        await process.WaitForExitAsync().WaitAsync(Patience);
    }

    /// <summary>Ends it without warning; what it had not saved is gone. It saves every second.</summary>
    public async Task KillAsync()
    {
        process!.Kill();
        await process.WaitForExitAsync().WaitAsync(Patience);
    }

    /// <summary>Waits until everything that the broker knows by now is on its disk.</summary>
    public async Task SavedAsync()
    {
        // The first file to come may have been begun before now; the next was not.
        var watch = Stopwatch.StartNew();
        for (var i = 0; i < 2; i++)
        {
            var before = File.GetLastWriteTimeUtc(Saved);
            while (File.GetLastWriteTimeUtc(Saved) == before)
            {
                Assert.True(watch.Elapsed < Patience, $"mosquitto does not save: {Output}");
                await Task.Delay(20);
            }
        }
    }

    /// <summary>Makes a broker that is not running forget every session.</summary>
    public void Forget() => File.Delete(Saved);

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            await KillAsync();
        }

        process?.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private async Task<bool> TryStartAsync()
    {
        process?.Dispose();
        isRunning = false;
        process = new Process
        {
            StartInfo = new ProcessStartInfo(program, ["-c", Path.Combine(folder, "mosquitto.conf")])
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
        while (watch.Elapsed < Patience && !process.HasExited)
        {
            if (isRunning)
            {
                return true;
            }

            await Task.Delay(10);
        }

        if (!process.HasExited)
        {
            await KillAsync();
        }

        return false;
    }

    private void Keep(object sender, DataReceivedEventArgs e)
    {
        // It says so once it listens, and not where another has its port.
        if (e.Data is { } line && line.Contains("mosquitto version", StringComparison.Ordinal) && line.EndsWith(" running", StringComparison.Ordinal))
        {
            isRunning = true;
        }

        lock (output)
        {
            output.AppendLine(e.Data);
        }
    }

    private async Task WriteFilesAsync(MosquittoSettings settings)
    {
        var config = new StringBuilder();
        if (settings.BaseConfiguration is { } given)
        {
            foreach (var line in given.Split('\n').Where(l => !l.StartsWith("listener ", StringComparison.Ordinal) && !l.StartsWith("persistence_location ", StringComparison.Ordinal)))
            {
                config.AppendLine(line);
            }
        }
        else
        {
            config.AppendLine(settings.User is null ? "allow_anonymous true" : "allow_anonymous false");
            config.AppendLine("persistence true").AppendLine("autosave_interval 1").AppendLine("max_queued_messages 0");
        }

        config.AppendLine(CultureInfo.InvariantCulture, $"listener {Port} 127.0.0.1");
        config.AppendLine(CultureInfo.InvariantCulture, $"persistence_location {folder}/").AppendLine("log_dest stderr");
        if (Environment.UserName == "root")
        {
            // Else it drops to a user of its own, who may not write here.
            config.AppendLine("user root");
        }

        if (settings.User is { } user)
        {
            var passwords = Path.Combine(folder, "passwords");
            await File.WriteAllTextAsync(passwords, $"{user}:{settings.Password}\n");
            using var hashing = Process.Start("mosquitto_passwd", ["-U", passwords]);
            await hashing.WaitForExitAsync();
            Assert.Equal(0, hashing.ExitCode);
            config.AppendLine(CultureInfo.InvariantCulture, $"password_file {passwords}");
        }

        if (settings.TlsFolder is { } tls)
        {
            config.AppendLine(CultureInfo.InvariantCulture, $"cafile {tls}/ca.pem");
            config.AppendLine(CultureInfo.InvariantCulture, $"certfile {tls}/server.pem");
            config.AppendLine(CultureInfo.InvariantCulture, $"keyfile {tls}/server-key.pem");
            if (settings.RequireClientCertificate)
            {
                config.AppendLine("require_certificate true");
            }
        }

        await File.WriteAllTextAsync(Path.Combine(folder, "mosquitto.conf"), config.ToString());
    }
}
