using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Vanehour.Ingest.Tests.Brokers;

/// <summary>
/// A real mosquitto on a loopback port of its own, with its files in a folder of its own. It can be stopped, killed and started again on
/// the same port with the sessions it had saved. Where the program is not installed tests are skipped, unless the environment variable
/// <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
public sealed class MosquittoBroker : IAsyncDisposable
{
    private static readonly string[] Places = ["/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto", "/usr/bin/mosquitto", "/opt/homebrew/sbin/mosquitto"];

    private readonly string program;
    private readonly string folder;
    private readonly StringBuilder output = new();
    private Process? process;

    private MosquittoBroker(string program, string folder, int port)
    {
        this.program = program;
        this.folder = folder;
        Port = port;
    }

    /// <summary>The port on loopback; stays the same over restarts.</summary>
    public int Port { get; }

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
        var broker = new MosquittoBroker(program!, folder, FreePort());
        await broker.WriteFilesAsync(settings ?? new MosquittoSettings());
        await broker.StartAgainAsync();
        return broker;
    }

    /// <summary>Starts it again after <see cref="StopAsync"/> or <see cref="KillAsync"/>.</summary>
    public async Task StartAgainAsync()
    {
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
        for (var i = 0; i < 500; i++)
        {
            if (process.HasExited)
            {
                break;
            }

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

        Assert.Fail($"mosquitto did not start: {Output}");
    }

    /// <summary>Asks it to end; it saves its sessions first.</summary>
    public async Task StopAsync()
    {
        using var kill = Process.Start("/bin/sh", ["-c", string.Create(CultureInfo.InvariantCulture, $"kill -TERM {process!.Id}")]);
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(10));
    }

    /// <summary>Ends it without warning; what it had not saved is gone. It saves every second.</summary>
    public async Task KillAsync()
    {
        process!.Kill();
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(10));
    }

    /// <summary>Makes a broker that is not running forget every session.</summary>
    public void Forget() => File.Delete(Path.Combine(folder, "mosquitto.db"));

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            await KillAsync();
        }

        process?.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private void Keep(object sender, DataReceivedEventArgs e)
    {
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
