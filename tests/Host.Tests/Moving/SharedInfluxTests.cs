using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Simulator;
using Vanehour.Store.Tests.Influx;

namespace Vanehour.Host.Tests.Moving;

/// <summary>Workers with data folders of their own forward to one InfluxDB, as with a shared subscription, and one of them analyses what all of them heard.</summary>
public sealed class SharedInfluxTests : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("vanehour-shared-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(root, recursive: true);
    }

    [SkippableFact]
    public async Task OneAnalysis_DerivesWhatAllHeard_AsIfOneHadHeardIt()
    {
        Skip.If(InfluxDaemon.IsMissing, "influxd is not installed.");
        await using var daemon = await InfluxDaemon.StartAsync();
        await using var shim = await InfluxShim.StartAsync(daemon.Url);
        var bucket = await daemon.CreateDatabaseAsync();
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 1 });
        var register = Path.Combine(root, "register");
        RegisterFiles.Write(fleet, register);
        var (alone, a, b, c) = (Folder("alone", null, bucket), Folder("a", shim.Url, bucket), Folder("b", shim.Url, bucket), Folder("c", shim.Url, bucket));
        foreach (var folder in new[] { alone, a, c })
        {
            await RunAsync("import", Path.Combine(register, "pump-models.csv"), Path.Combine(register, "trucks.csv"), Path.Combine(register, "service.csv"), "--data", folder);
        }

        // Packs of a truck go to either worker, and the second half of the month comes late.
        var packs = fleet.Trucks.SelectMany(t => fleet.Samples(t.Id).Chunk(200)).ToList();
        var random = new Random(5);
        foreach (var part in new[] { packs.Where((_, i) => i % 3 != 1).ToList(), packs.Where((_, i) => i % 3 == 1).ToList() })
        {
            var split = part.ToLookup(_ => random.Next(2));
            await StoreAsync(alone, part);
            await StoreAsync(a, [.. split[0]]);
            await StoreAsync(b, [.. split[1]]);
            foreach (var folder in new[] { alone, a })
            {
                await RunAsync("analyse", "--as-of", fleet.End.ToString("O"), "--data", folder);
            }
        }

        foreach (var truck in fleet.Trucks)
        {
            var runs = await RunAsync("runs", truck.Id, "--json", "--data", alone);
            Assert.True(JsonDocument.Parse(runs).RootElement.GetArrayLength() > 20);
            Assert.Equal(runs, await RunAsync("runs", truck.Id, "--json", "--data", a));
        }

        Assert.Equal(await RunAsync("findings", "--json", "--data", alone), await RunAsync("findings", "--json", "--data", a));
        Assert.Equal(await RunAsync("trucks", "--json", "--data", alone), await RunAsync("trucks", "--json", "--data", a));

        // A folder that comes to the server later, and has never taken in a sample itself, analyses the same.
        await RunAsync("analyse", "--as-of", fleet.End.ToString("O"), "--data", c);
        Assert.Equal(await RunAsync("runs", "T01", "--json", "--data", a), await RunAsync("runs", "T01", "--json", "--data", c));
    }

    private static async Task StoreAsync(string folder, IReadOnlyList<Sample[]> packs)
    {
        using var data = DataFolder.Open(folder);
        foreach (var pack in packs)
        {
            await data.Samples.WriteAsync(pack, default);
        }

        if (data.Remote is { } remote)
        {
            await remote.Forwarder.DrainAsync(default);
        }
    }

    private static async Task<string> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await Cli.RunAsync(args, new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        Assert.True(code == ExitCode.Done, error.ToString());
        return output.ToString();
    }

    private string Folder(string name, string? url, string bucket)
    {
        var folder = Directory.CreateDirectory(Path.Combine(root, name)).FullName;
        if (url is not null)
        {
            File.WriteAllText(Path.Combine(folder, "vanehour.json"), JsonSerializer.Serialize(new { Store = new { Kind = "Influx", Influx = new { Url = url, Bucket = bucket } } }));
        }

        return folder;
    }
}
