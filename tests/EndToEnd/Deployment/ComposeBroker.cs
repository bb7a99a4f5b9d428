using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>
/// Debian's mosquitto with docker/mosquitto/mosquitto.conf and its acl as shipped: only the paths inside the container and the two listening
/// addresses are replaced. Where the program is not installed tests are skipped, unless <c>VANEHOUR_REQUIRE_SERVICES</c> is 1.
/// </summary>
internal sealed class ComposeBroker : IAsyncDisposable
{
    private const string Program = "/usr/sbin/mosquitto";

    private readonly string folder;
    private readonly StringBuilder output = new();
    private Process? process;

    private ComposeBroker(string folder, int passwordPort, int certificatePort)
    {
        this.folder = folder;
        PasswordPort = passwordPort;
        CertificatePort = certificatePort;
    }

    /// <summary>What is 8883 in the container.</summary>
    public int PasswordPort { get; }

    /// <summary>What is 8884 in the container.</summary>
    public int CertificatePort { get; }

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
        var broker = new ComposeBroker(folder, FreePort(), FreePort());
        Directory.CreateDirectory(Path.Combine(folder, "data"));
        File.Copy(DeploymentFiles.PathOf("mosquitto/acl"), Path.Combine(folder, "acl"));
        var shipped = DeploymentFiles.Text("mosquitto/mosquitto.conf");
        var used = shipped
            .Replace("/mosquitto/config/", folder + "/", StringComparison.Ordinal)
            .Replace("/mosquitto/data/", folder + "/data/", StringComparison.Ordinal)
            .Replace("/run/secrets/", secrets + "/", StringComparison.Ordinal)
            .Replace("listener 8883\n", string.Create(CultureInfo.InvariantCulture, $"listener {broker.PasswordPort} 127.0.0.1\n"), StringComparison.Ordinal)
            .Replace("listener 8884\n", string.Create(CultureInfo.InvariantCulture, $"listener {broker.CertificatePort} 127.0.0.1\n"), StringComparison.Ordinal);
        Assert.Equal(2, used.Split('\n').Count(l => l.EndsWith(" 127.0.0.1", StringComparison.Ordinal)));
        if (Environment.UserName == "root")
        {
            // Else it drops to a user of its own, who may not read the test's files. In the container it starts as that user.
            used += "user root\n";
        }

        await File.WriteAllTextAsync(Path.Combine(folder, "mosquitto.conf"), used);
        await broker.StartAgainAsync();
        return broker;
    }

    public async Task StartAgainAsync()
    {
        process = new Process
        {
            StartInfo = new ProcessStartInfo(Program, ["-c", Path.Combine(folder, "mosquitto.conf")]) { RedirectStandardError = true, RedirectStandardOutput = true },
        };
        process.ErrorDataReceived += Keep;
        process.OutputDataReceived += Keep;
        process.Start();
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        for (var i = 0; i < 500 && !process.HasExited; i++)
        {
            using var probe = new TcpClient();
            try
            {
                await probe.ConnectAsync(IPAddress.Loopback, CertificatePort);
                return;
            }
            catch (SocketException)
            {
                await Task.Delay(20);
            }
        }

        lock (output)
        {
            Assert.Fail($"mosquitto did not start: {output}");
        }
    }

    /// <summary>Asks it to end, as compose does.</summary>
    public async Task StopAsync()
    {
        using var kill = Process.Start("/bin/sh", ["-c", string.Create(CultureInfo.InvariantCulture, $"kill -TERM {process!.Id}")]);
        await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(20));
        process.Dispose();
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            process.Kill();
            await process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(20));
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
}
