using System.Text.Json;
using Vanehour.Host.Composition;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Host.Tests;

/// <summary>'evaluate' on a small simulated fleet, straight from its runs.</summary>
public sealed class EvaluateTests : IDisposable
{
    private readonly CommandLine cli = new();

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task Scores_AsATable_AsJson_AsAPicture_AndChangesNothing()
    {
        var truth = await PrepareAsync(new SimulationOptions { Trucks = 4, Months = 3, Seed = 72 });
        var picture = Path.Combine(cli.Data, "scores.png");
        var (code, output, error) = await cli.RunAsync("evaluate", "--data", cli.Data, "--truth", truth, "--every", "14", "--out", picture, "--each");
        Assert.True(code == ExitCode.Done, error);
        Assert.StartsWith("4 trucks, ", output, StringComparison.Ordinal);
        Assert.Contains("OilLineChoked", output, StringComparison.Ordinal);
        Assert.Contains("false findings per truck-year", output, StringComparison.Ordinal);
        Assert.Equal([0x89, 0x50, 0x4E, 0x47], (await File.ReadAllBytesAsync(picture)).Take(4));

        (code, output, _) = await cli.RunAsync("evaluate", "--data", cli.Data, "--truth", truth, "--every", "30", "--json");
        Assert.Equal(ExitCode.Done, code);
        using var json = JsonDocument.Parse(output);
        var names = json.RootElement.EnumerateObject().Select(p => p.Name).ToList();
        Assert.All(["faults", "false_per_truck_year", "forecast", "plan", "baselines"], name => Assert.Contains(name, names));
        var fault = json.RootElement.GetProperty("faults")[0].EnumerateObject().Select(p => p.Name).ToList();
        Assert.All(["fault", "injected", "found", "found_before_harm", "cause_in_first_three", "median_lead_h"], name => Assert.Contains(name, fault));
        Assert.All(["ahead_h", "coverage_80", "median_relative_error"], name => Assert.True(json.RootElement.GetProperty("forecast").TryGetProperty(name, out _)));

        using var data = DataFolder.OpenExisting(cli.Data);
        Assert.Empty(data.Findings.Read());
        Assert.Null(data.Results.LatestAsOf());
    }

    [Fact]
    public async Task WhatCannotBeScored_IsOneSentence()
    {
        var truth = await PrepareAsync(new SimulationOptions { Trucks = 1, Months = 1 });
        var (code, _, error) = await cli.RunAsync("evaluate", "--data", cli.Data, "--truth", truth + ".missing");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("cannot be used", error, StringComparison.Ordinal);

        await File.WriteAllTextAsync(truth, "{\"type\":\"fault\"}\n");
        (code, _, error) = await cli.RunAsync("evaluate", "--data", cli.Data, "--truth", truth);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("\nLine 1 of the truth file cannot be read", error, StringComparison.Ordinal);

        await File.WriteAllTextAsync(truth, "{\"type\":\"life\",\"truck\":\"X\",\"pump_serial\":\"P\",\"fitted_at\":\"2026-01-01T00:00:00Z\",\"meter_at_fitting_h\":1}\n");
        (code, _, error) = await cli.RunAsync("evaluate", "--data", cli.Data, "--truth", truth);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("other trucks", error, StringComparison.Ordinal);
    }

    private async Task<string> PrepareAsync(SimulationOptions options)
    {
        var fleet = SimulatedFleet.Create(options);
        using var data = DataFolder.Open(cli.Data);
        data.Register.Upsert(fleet.PumpModels, fleet.Trucks, fleet.ServiceRecords);
        foreach (var truck in fleet.Trucks)
        {
            var (runs, heard) = SimulatedRuns.Of(fleet, truck);
            data.Runs.Replace(truck.Id, DateTimeOffset.MinValue, runs, fleet.End);
            await data.Samples.WriteAsync(heard, CancellationToken.None);
        }

        var truth = Path.Combine(cli.Data, "truth.jsonl");
        TruthFile.Write(fleet, truth);
        return truth;
    }
}
