using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Simulator;
using Vanehour.Store.Tests.Influx;

namespace Vanehour.Host.Tests.Moving;

/// <summary>Samples go from a data folder to an InfluxDB and back without losing a digit.</summary>
public sealed class CopyStoreInfluxTests : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("vanehour-copy-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(root, recursive: true);
    }

    [SkippableFact]
    public async Task ThereAndBackGivesTheSameSamples()
    {
        Skip.If(InfluxDaemon.IsMissing, "influxd is not installed.");
        await using var daemon = await InfluxDaemon.StartAsync();
        await using var shim = await InfluxShim.StartAsync(daemon.Url);
        var bucket = await daemon.CreateDatabaseAsync();
        var (first, server, last) = (Path.Combine(root, "first"), Path.Combine(root, "server"), Path.Combine(root, "last"));
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 2, Months = 1 });
        var sent = new Dictionary<string, List<Sample>>(StringComparer.Ordinal);
        using (var data = DataFolder.Open(first))
        {
            foreach (var truck in fleet.Trucks)
            {
                sent[truck.Id] = [.. fleet.Samples(truck.Id).Take(6000)];
                await data.Samples.WriteAsync(sent[truck.Id], default);
            }
        }

        Directory.CreateDirectory(server);
        await File.WriteAllTextAsync(Path.Combine(server, "vanehour.json"), JsonSerializer.Serialize(
            new { Store = new { Influx = new { shim.Url, Bucket = bucket } } }));
        await RunAsync("copy-store", "--from", "sqlite", "--from-data", first, "--to", "influx", "--to-data", server);
        await RunAsync("copy-store", "--from", "influx", "--from-data", server, "--to", "sqlite", "--to-data", last);

        // A folder that has never seen the server learns what is there.
        var (stranger, other) = (Path.Combine(root, "stranger"), Path.Combine(root, "other"));
        using (DataFolder.Open(stranger, StoreKind.Sqlite))
        {
        }

        File.Copy(Path.Combine(server, "vanehour.json"), Path.Combine(stranger, "vanehour.json"));
        await RunAsync("copy-store", "--from", "influx", "--from-data", stranger, "--to", "sqlite", "--to-data", other);
        using (var found = DataFolder.OpenExisting(other, StoreKind.Sqlite))
        {
            Assert.Equal(sent.Select(t => (t.Key, (long)t.Value.Count)).Order(), (await found.Samples.TrucksAsync(default)).Select(t => (t.Truck, t.Samples)));
        }

        using var copied = DataFolder.OpenExisting(last, StoreKind.Sqlite);
        foreach (var (truck, samples) in sent)
        {
            var got = new List<Sample>();
            await foreach (var sample in copied.Samples.ReadAsync(truck, 0, long.MaxValue, default))
            {
                got.Add(sample);
            }

            Assert.Equal(samples, got);
        }
    }

    [Fact]
    public async Task AServerThatIsNotThereIsOneSentence()
    {
        var (first, server) = (Path.Combine(root, "first"), Path.Combine(root, "server"));
        DataFolder.Open(first).Dispose();
        Directory.CreateDirectory(server);
        await File.WriteAllTextAsync(Path.Combine(server, "vanehour.json"), """{"Store":{"Influx":{"Url":"http://127.0.0.1:9"}}}""");
        var (code, error) = await TryAsync("copy-store", "--from", "sqlite", "--from-data", first, "--to", "influx", "--to-data", server);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("127.0.0.1:9", error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
    }

    private async Task RunAsync(params string[] args)
    {
        var (code, error) = await TryAsync(args);
        Assert.True(code == ExitCode.Done, error);
    }

    private async Task<(int Code, string Error)> TryAsync(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Cli.RunAsync([.. args, "--data", root], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        return (code, output.ToString() + error);
    }
}
