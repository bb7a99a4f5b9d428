using Microsoft.Data.Sqlite;
using Vanehour.Host.Demo;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Scoring;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Composition;

//  cases.json, seed --> DrillFleet --register, samples--> data folder --> runs, analysis, plan (as for a real fleet)
//                           |                                                     |
//                           +--> truth ------> DrillTruth <---- findings, runs ---+
//                                                  |
//                                       drill.sealed, drill.json

/// <summary>Sets a drill up in a folder of its own. Its samples are stored, so that every ordinary command works on it, 'analyse' included.</summary>
internal sealed class DrillJob(CliEnvironment environment)
{
    private const int BatchSize = 20_000;

    /// <summary>Sets it up. What was begun is taken away again when it does not get done.</summary>
    /// <param name="folder">A folder that is missing or empty.</param>
    /// <param name="drill">The drill.</param>
    /// <param name="cancellationToken">Stops it.</param>
    /// <exception cref="DrillRefusedException">There is something in the folder.</exception>
    public async Task<DrillFolder> RunAsync(string folder, DrillFleet drill, CancellationToken cancellationToken)
    {
        DrillFolder.RequireEmpty(folder);
        try
        {
            return await FillAsync(folder, drill, cancellationToken);
        }
        catch
        {
            // The folder was empty, so everything in it is ours. Pooled connections would hold its files.
            SqliteConnection.ClearAllPools();
            if (Directory.Exists(folder))
            {
                Directory.Delete(folder, recursive: true);
            }

            throw;
        }
    }

    private async Task<DrillFolder> FillAsync(string folder, DrillFleet drill, CancellationToken cancellationToken)
    {
        var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
        var settings = SettingsFile.Read(folder);
        using var data = DataFolder.Open(folder, StoreKind.Sqlite);
        DemoSettings.Of(drill.Fleet.Options).Write(data.Folder);
        data.Register.Upsert(drill.Fleet.PumpModels, drill.Fleet.Trucks, drill.Fleet.ServiceRecords);
        await progress.StepAsync("Simulating", share => StoreAsync(data, drill, share, cancellationToken));
        await new AnalysisJob(data, settings, environment.Time, environment.Error.WriteLine).RunAsync(drill.Fleet.End, progress, cancellationToken);
        var truth = await progress.StepAsync("Sealing", _ => Task.Run(() => Truth(data, drill), cancellationToken));
        return DrillFolder.Create(data.Folder, DrillInfo.Of(drill), truth);
    }

    private static DrillTruth Truth(DataFolder data, DrillFleet drill) => DrillTruth.Of(
        drill,
        drill.Fleet.Trucks.ToDictionary(t => t.Id, t => data.Runs.Read(t.Id), StringComparer.Ordinal),
        data.RequireAnalysis().Findings);

    private static async Task<int> StoreAsync(DataFolder data, DrillFleet drill, IProgress<double> share, CancellationToken cancellationToken)
    {
        using var writing = new SemaphoreSlim(1);
        var done = 0;
        await Parallel.ForEachAsync(drill.Fleet.Trucks, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancellationToken }, async (truck, stop) =>
        {
            foreach (var batch in SimulatedRuns.Samples(drill.Fleet, truck).Chunk(BatchSize))
            {
                await writing.WaitAsync(stop);
                try
                {
                    await data.Samples.WriteAsync(batch, stop);
                }
                finally
                {
                    writing.Release();
                }
            }

            share.Report((double)Interlocked.Increment(ref done) / DrillFleet.Trucks);
        });
        return done;
    }
}
