using System.Diagnostics;
using System.Globalization;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Analysis;
using Vanehour.Scoring;
using Vanehour.Simulator;
using Vanehour.Store.Sqlite;

namespace Vanehour.Bench;

/// <summary>
/// Simulates a large fleet straight into runs, without a broker and without keeping its samples: a data folder that 'evaluate' can score. Of the samples only the last of every
/// six hours is kept, so that it is known when a truck was heard; 'analyse' in such a folder would derive its runs anew from those, so it is for scoring alone.
/// </summary>
internal static class StudyFleet
{
    public static SimulationOptions Options(int trucks, int months, long seed, string[] more) => new()
    {
        Trucks = trucks,
        Months = months,
        Seed = seed,
        Faults = more.Contains("none") ? FaultScenario.None : more.Contains("drift") ? FaultScenario.Drift : FaultScenario.Default,
        Dirt = more.Contains("dirt") ? 1 : 0,
        PartFullChance = 0.07,
        CutShortChance = 0.05,
    };

    public static async Task PrepareAsync(SimulationOptions options, string folder, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var fleet = SimulatedFleet.Create(options);
        var registerFile = SqliteDatabase.Open(folder, FleetSchema.Current);
        new FleetRegister(registerFile).Upsert(fleet.PumpModels, fleet.Trucks, fleet.ServiceRecords);
        await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"register {watch.Elapsed.TotalSeconds:F0} s"));
        TruthFile.Write(fleet, folder.TrimEnd('/') + ".truth.jsonl");
        await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"truth {watch.Elapsed.TotalSeconds:F0} s"));

        var runStore = new SqliteRunStore(registerFile);
        using var samples = new SqliteTelemetryStore(SqliteDatabase.Open(folder, SamplesSchema.Current));
        using var writing = new SemaphoreSlim(1);
        await Parallel.ForEachAsync(fleet.Trucks, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, async (truck, stop) =>
        {
            var (runs, heard) = SimulatedRuns.Of(fleet, truck);
            await writing.WaitAsync(stop);
            try
            {
                runStore.Replace(truck.Id, DateTimeOffset.MinValue, runs, fleet.End);
                await samples.WriteAsync(heard, stop);
            }
            finally
            {
                writing.Release();
            }
        });
        await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"runs {watch.Elapsed.TotalSeconds:F0} s"));
    }

    public static async Task WearAsync(string folder, string truck, string[] dates, TextWriter output)
    {
        var registerFile = SqliteDatabase.Open(folder, FleetSchema.Current);
        using var samples = new SqliteTelemetryStore(SqliteDatabase.Open(folder, SamplesSchema.Current));
        var fleet = await ReplayFleet.ReadAsync(new FleetRegister(registerFile), new SqliteRunStore(registerFile), samples, CancellationToken.None);
        foreach (var date in dates)
        {
            var wear = new AnalysisCore(new AnalysisOptions()).Fit(fleet.AsOf(DateTimeOffset.Parse(date, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal)), null, CancellationToken.None)
                .Wear.First(w => w.Truck == truck);
            await output.WriteLineAsync(string.Create(
                CultureInfo.InvariantCulture,
                $"{date} {wear.Status} wear {wear.Wear} to limit {wear.HoursToLimit} per 1000 h {wear.WearPer1000H:F2} ({wear.WearPer1000HSe:F2}), n {wear.Observations}"));
            foreach (var step in wear.Steps)
            {
                await output.WriteLineAsync($"  {step}");
            }

            foreach (var remark in wear.Remarks)
            {
                await output.WriteLineAsync($"  {remark}");
            }
        }
    }
}
