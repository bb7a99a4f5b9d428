using System.Diagnostics;
using Microsoft.Data.Sqlite;
using MQTTnet;
using Vanehour.Host;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>The secrets that docker/make-secrets.sh makes fit broker and worker, and the worker says that it is well.</summary>
public sealed class MadeSecretsTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-secrets-").FullName;

    private string Secrets => Path.Combine(folder, "secrets");

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [SkippableFact]
    public async Task BrokerAndWorkerRunOnThem()
    {
        ComposeBroker.Require();
        await MakeAsync("T07");
        var worker = await File.ReadAllTextAsync(Path.Combine(Secrets, "worker-password"));
        await MakeAsync("T09");
        Assert.Equal(worker, await File.ReadAllTextAsync(Path.Combine(Secrets, "worker-password")));

        await using var broker = await ComposeBroker.StartAsync(Secrets);
        var data = Path.Combine(folder, "data");
        await using (var running = await RunningWorker.StartAsync(data, broker.PasswordPort, options =>
        {
            options.Host = "localhost";
            options.Tls = true;
            options.CaFile = Path.Combine(Secrets, "ca.pem");
            options.User = "vanehour-worker";
            options.PasswordFile = Path.Combine(Secrets, "worker-password");
        }))
        {
            foreach (var truck in new[] { "T07", "T09" })
            {
                var password = (await File.ReadAllTextAsync(Path.Combine(Secrets, $"truck-{truck}-password"))).Trim();
                var (client, result) = await BrokerClient.ConnectAsync(broker.PasswordPort, Path.Combine(Secrets, "ca.pem"), truck, password);
                await using var end = client;
                Assert.Equal(MqttClientConnectResultCode.Success, result);
                await client.PublishAsync($"fleet/{truck}/pump");
            }

            await running.Monitor.WaitForAcknowledgedAsync(2, RunningWorker.Limit());
            await WaitForHealthAsync(data);
        }

        var (code, error) = await HealthAsync(data);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("has stopped", error, StringComparison.Ordinal);
    }

    private static async Task WaitForHealthAsync(string data)
    {
        // The first status may have been written before the broker was connected; the next comes five seconds later.
        var limit = RunningWorker.Limit();
        while ((await HealthAsync(data)).Code != ExitCode.Done)
        {
            await Task.Delay(200, limit);
        }
    }

    private static async Task<(int Code, string Error)> HealthAsync(string data)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        return (await Cli.RunAsync(["health", "--data", data], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false)), error.ToString());
    }

    private async Task MakeAsync(string truck)
    {
        Directory.CreateDirectory(Secrets);
        var script = Path.Combine(folder, "make-secrets.sh");
        File.Copy(DeploymentFiles.PathOf("make-secrets.sh"), script, overwrite: true);
        using var making = Process.Start(new ProcessStartInfo("bash", [script, "broker.example", truck]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        var output = making.StandardOutput.ReadToEndAsync();
        var error = await making.StandardError.ReadToEndAsync();
        await making.WaitForExitAsync();
        Assert.True(making.ExitCode == 0, error + await output);
    }
}
