using System.Diagnostics;
using System.Globalization;
using System.Text;
using Vanehour.Tests.Loopback;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>
/// Debian's mosquitto with docker/mosquitto/mosquitto.conf and its acl as shipped: only the paths inside the container and the two listening
/// addresses are replaced. Where the program is not installed tests are skipped, unless <c>VANEHOUR_REQUIRE_SERVICES</c> is 1.
/// </summary>
internal sealed class ComposeBroker : IAsyncDisposable
{
    private const string Program = "/usr/sbin/mosquitto";
    private const int StartAttempts = 5;

    // For a machine that is busy with other tests.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private readonly string folder;
    private readonly StringBuilder output = new();
    private Process? process;

    private volatile bool isRunning;

    private ComposeBroker(string folder) => this.folder = folder;

    /// <summary>What is 8883 in the container.</summary>
    public int PasswordPort { get; private set; }

    /// <summary>What is 8884 in the container.</summary>
    public int CertificatePort { get; private set; }

    /// <summary>Skips the test where mosquitto is not installed.</summary>
    public static void Require()
    {
        if (!File.Exists(Program))
        {
            Assert.False(Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1", "mosquitto is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
            Skip.If(true, "mosquitto is not installed.");
        }
    }

    /// <summary>Starts it with the secrets in a folder, named as compose names them.</summary>
    public static async Task<ComposeBroker> StartAsync(string secrets)
    {
        Require();
        var folder = Directory.CreateTempSubdirectory("vanehour-broker-").FullName;
        var broker = new ComposeBroker(folder);
        Directory.CreateDirectory(Path.Combine(folder, "data"));
        File.Copy(DeploymentFiles.PathOf("mosquitto/acl"), Path.Combine(folder, "acl"));
        for (var i = 0; i < StartAttempts; i++)
        {
            // Ports that another took since they were chosen end it at once: others are tried.
            (broker.PasswordPort, broker.CertificatePort) = (FreePort.Choose(), FreePort.Choose());
            await broker.ConfigureAsync(secrets);
            if (await broker.TryStartAsync())
            {
                return broker;
            }
        }

        broker.Fail();
        return broker;
    }

    public async Task StartAgainAsync()
    {
        if (!await TryStartAsync())
        {
            Fail();
        }
    }

    /// <summary>Asks it to end, as compose does.</summary>
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

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            process.Kill();
            await process.WaitForExitAsync().WaitAsync(Patience);
        }

        process?.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    private async Task ConfigureAsync(string secrets)
    {
        var shipped = DeploymentFiles.Text("mosquitto/mosquitto.conf");
        var used = shipped
            .Replace("/mosquitto/config/", folder + "/", StringComparison.Ordinal)
            .Replace("/mosquitto/data/", folder + "/data/", StringComparison.Ordinal)
            .Replace("/run/secrets/", secrets + "/", StringComparison.Ordinal)
            .Replace("listener 8883\n", string.Create(CultureInfo.InvariantCulture, $"listener {PasswordPort} 127.0.0.1\n"), StringComparison.Ordinal)
            .Replace("listener 8884\n", string.Create(CultureInfo.InvariantCulture, $"listener {CertificatePort} 127.0.0.1\n"), StringComparison.Ordinal);
        Assert.Equal(2, used.Split('\n').Count(l => l.EndsWith(" 127.0.0.1", StringComparison.Ordinal)));
        if (Environment.UserName == "root")
        {
            // Else it drops to a user of its own, who may not read the test's files. In the container it starts as that user.
            used += "user root\n";
        }

        // Only so does it say when it runs.
        used += "\nlog_type information\n";
        await File.WriteAllTextAsync(Path.Combine(folder, "mosquitto.conf"), used);
    }

    private async Task<bool> TryStartAsync()
    {
        process?.Dispose();
        isRunning = false;
        process = new Process
        {
            StartInfo = new ProcessStartInfo(Program, ["-c", Path.Combine(folder, "mosquitto.conf")]) { RedirectStandardError = true, RedirectStandardOutput = true },
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
            process.Kill();
            await process.WaitForExitAsync().WaitAsync(Patience);
        }

        return false;
    }

    private void Fail()
    {
        lock (output)
        {
            Assert.Fail($"mosquitto did not start: {output}");
        }
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
}
