using System.Text.Json;
using Vanehour.Host.Composition;
using Vanehour.Host.Demo;
using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Host.Tests;

/// <summary>'compare' on a small simulated fleet with past lives and a month of runs.</summary>
public sealed class CompareTests : IDisposable
{
    private readonly CommandLine cli = new();
    private DateTimeOffset end;

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task Everything_IsCompared_AsATable_AsJson_AsCsv_AsAPicture()
    {
        Prepare();
        await BeforeAnAnalysisAsync();
        using (var data = DataFolder.OpenExisting(cli.Data))
        {
            new FleetAnalysis(data.Register, data.Runs, data.Results, data.Findings, new AnalysisOptions()).Analyse(end, null, CancellationToken.None);
        }

        var picture = Path.Combine(cli.Folder, "compare.png");
        var table = await RunAsync("compare", "--out", picture);
        Assert.Contains("Oil, L/h", table, StringComparison.Ordinal);
        Assert.Contains("Oil: each truck's median run at the fleet's mean load (vacuum ", table, StringComparison.Ordinal);
        Assert.Contains("Wear: ", table, StringComparison.Ordinal);
        Assert.Contains("Cost per h: planned rebuilds and failures so far over PTO hours, in planned rebuilds, a failure at 4 of them", table, StringComparison.Ordinal);
        Assert.Equal([0x89, 0x50, 0x4E, 0x47], (await File.ReadAllBytesAsync(picture)).Take(4));

        using var json = JsonDocument.Parse(await RunAsync("compare", "--json"));
        Assert.Equal("planned_rebuild", json.RootElement.GetProperty("cost_unit").GetString());
        var models = json.RootElement.GetProperty("models").EnumerateArray().ToList();
        var thistle = models.Single(m => m.GetProperty("pump_model").GetString() == "Thistle 230");
        Assert.True(thistle.GetProperty("oil_pumps").GetInt32() >= 3);
        foreach (var (measure, least, most) in new[] { ("oil_l_per_h", 0.1, 0.8), ("wear_per_1000h", 0.1, 3) })
        {
            var value = thistle.GetProperty(measure);
            Assert.InRange(value.GetProperty("mid").GetDouble(), least, most);
            Assert.InRange(value.GetProperty("mid").GetDouble(), value.GetProperty("low").GetDouble(), value.GetProperty("high").GetDouble());
        }

        var cost = thistle.GetProperty("cost_per_h").GetDouble();
        Assert.InRange(cost, 1e-4, 0.01);
        Assert.Equal(JsonValueKind.Null, thistle.GetProperty("cost_per_h_low").ValueKind);
        Assert.Contains(thistle.GetProperty("remarks").EnumerateArray(), r => r.GetString()!.Contains("too few for limits of the cost per hour", StringComparison.Ordinal));
        Assert.True(thistle.GetProperty("cost_per_h_best").GetDouble() < cost);
        foreach (var pair in json.RootElement.GetProperty("pairs").EnumerateArray())
        {
            foreach (var said in new[] { pair, pair.GetProperty("oil"), pair.GetProperty("wear") })
            {
                Assert.Contains(said.GetProperty("verdict").GetString(), Enum.GetNames<PairVerdict>());
                Assert.Contains(pair.GetProperty("a").GetString()!, said.GetProperty("sentence").GetString(), StringComparison.Ordinal);
            }
        }

        var lines = (await RunAsync("compare", "--csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(models.Count + 1, lines.Length);
        Assert.Contains("oil_l_per_h", lines[0].Split(','));
        Assert.Contains("cost_per_h", lines[0].Split(','));

        // The same pumps in money, and only one of the models.
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), "{ \"Life\": { \"PlannedRebuildCost\": 5000 } }");
        using var money = JsonDocument.Parse(await RunAsync("compare", "--json", "--model", "Thistle 230"));
        Assert.Equal("money", money.RootElement.GetProperty("cost_unit").GetString());
        Assert.Equal(5000 * cost, Assert.Single(money.RootElement.GetProperty("models").EnumerateArray()).GetProperty("cost_per_h").GetDouble(), 6);
    }

    [Fact]
    public async Task NoTrucks_AndPicturesThatCannotBeWritten_AreSaid()
    {
        using (DataFolder.Open(cli.Data))
        {
        }

        var picture = Path.Combine(cli.Folder, "empty.png");
        Assert.Contains("No life to compare.", await RunAsync("compare", "--out", picture), StringComparison.Ordinal);
        Assert.True(File.Exists(picture));
        using var json = JsonDocument.Parse(await RunAsync("compare", "--json"));
        Assert.Equal(0, json.RootElement.GetProperty("models").GetArrayLength());

        var (code, _, error) = await cli.RunAsync("compare", "--out", Path.Combine(cli.Folder, "missing", "a.png"));
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("The picture cannot be written to", error, StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), "{ \"Life\": { \"PlannedRebuildCost\": 0 } }");
        (code, _, error) = await cli.RunAsync("compare");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("PlannedRebuildCost must be above 0", error, StringComparison.Ordinal);
    }

    private async Task BeforeAnAnalysisAsync()
    {
        Assert.Contains("Wear: nothing is analysed yet; run 'vanehour analyse' first.", await RunAsync("compare"), StringComparison.Ordinal);
        using var json = JsonDocument.Parse(await RunAsync("compare", "--json"));
        Assert.All(json.RootElement.GetProperty("models").EnumerateArray(), m => Assert.Equal(JsonValueKind.Null, m.GetProperty("wear_per_1000h").ValueKind));
        Assert.Contains(json.RootElement.GetProperty("models").EnumerateArray(), m => m.GetProperty("oil_l_per_h").ValueKind == JsonValueKind.Object);
        Assert.All(json.RootElement.GetProperty("pairs").EnumerateArray(), p => Assert.Equal(JsonValueKind.Null, p.GetProperty("wear").ValueKind));
    }

    private void Prepare()
    {
        var options = new SimulationOptions { Trucks = 8, Months = 1, Seed = 5, HistoryYears = 8, Faults = FaultScenario.None };
        var fleet = SimulatedFleet.Create(options);
        using var data = DataFolder.Open(cli.Data);
        DemoSettings.Of(options).Write(cli.Data);
        data.Register.Upsert(fleet.PumpModels, fleet.Trucks, fleet.ServiceRecords);
        foreach (var truck in fleet.Trucks)
        {
            data.Runs.Replace(truck.Id, DateTimeOffset.MinValue, SimulatedRuns.Of(fleet, truck).Runs, fleet.End);
        }

        end = fleet.End;
    }

    private async Task<string> RunAsync(params string[] args)
    {
        var (code, output, error) = await cli.RunAsync(args);
        Assert.True(code == ExitCode.Done, error);
        return output;
    }
}
