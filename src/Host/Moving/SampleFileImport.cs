using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Import;
using Vanehour.Host.Output;
using Vanehour.Store;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Moving;

//  samples.csv --pass 1--> every row checked, nothing stored --no bad row, or they are skipped--> pass 2 --batches--> ITelemetryStore

/// <summary>
/// Imports sample files of any length: read twice, never held in memory. The first pass finds every bad row before anything is stored.
/// Storing is idempotent, so a file whose import was cut short is simply imported again.
/// </summary>
internal sealed class SampleFileImport
{
    /// <summary>Samples stored at a time.</summary>
    private const int BatchSamples = 20_000;

    /// <summary>Most problems that are listed; all are counted.</summary>
    private const int ListedProblems = 10_000;

    private const int RowsBetweenReports = 5_000;

    private readonly ITelemetryStore store;
    private readonly TextWriter error;
    private readonly ConsoleProgress progress;
    private readonly DateTimeOffset latest;

    public SampleFileImport(ITelemetryStore store, CliEnvironment environment)
    {
        this.store = store;
        error = environment.Error;
        progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
        latest = environment.Time.GetUtcNow() + SampleTime.MaxAhead;
    }

    /// <summary>Whether the file's header is a sample file's.</summary>
    public static bool Recognises(string path)
    {
        using var content = File.OpenRead(path);
        return SampleCsvReader.Recognises(SampleCsvReader.Columns(content));
    }

    /// <exception cref="CommandFailedException">The file is no ordinary file, or changed while it was read.</exception>
    public async Task<SampleFileResult> ImportAsync(string path, bool skipBadRows, CancellationToken cancellationToken)
    {
        var name = Path.GetFileName(path);
        var problems = new List<CsvProblem>();
        var before = Stamp(path);
        var (step, counts) = await progress.StepAsync($"Checking {name}", share => Task.Run(
            () => CheckAsync(path, Keep, share, cancellationToken), cancellationToken));
        problems.ForEach(p => error.WriteLine(p.ToString()));
        if (counts.BadRows > ListedProblems)
        {
            error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: {counts.BadRows} bad rows in all; the first {ListedProblems} problems are listed."));
        }

        if (step == SampleCsvStep.Broken || (counts.BadRows > 0 && !skipBadRows))
        {
            return counts;
        }

        var stored = await progress.StepAsync($"Storing {name}", share => Task.Run(() => StoreAsync(path, share, cancellationToken), cancellationToken));
        return stored.Rows == counts.Rows && stored.BadRows == counts.BadRows && Stamp(path) == before
            ? stored
            : throw Changed(path);

        void Keep(CsvProblem problem)
        {
            if (problems.Count < ListedProblems)
            {
                problems.Add(problem);
            }
        }
    }

    private static CommandFailedException Changed(string path) =>
        new($"{path} changed while it was imported, and a part of it may be stored; import it again when it is complete.");

    private static (long Bytes, DateTime WrittenUtc) Stamp(string path)
    {
        var info = new FileInfo(path);
        return (info.Length, info.LastWriteTimeUtc);
    }

    private static FileStream Open(string path)
    {
        var content = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1, FileOptions.SequentialScan);
        if (content.CanSeek)
        {
            return content;
        }

        content.Dispose();
        throw new CommandFailedException($"{path} is a pipe, and a sample file is read twice; write it to a file first.");
    }

    private async Task<(SampleCsvStep End, SampleFileResult Counts)> CheckAsync(
        string path, Action<CsvProblem> report, IProgress<double> share, CancellationToken cancellationToken)
    {
        long rows = 0, bad = 0, empty = 0;
        await using var content = Open(path);
        using var reader = new SampleCsvReader(Path.GetFileName(path), content, latest, report);
        SampleCsvStep step;
        while ((step = reader.Read(out _)) is not (SampleCsvStep.End or SampleCsvStep.Broken))
        {
            bad += step == SampleCsvStep.Bad ? 1 : 0;
            empty += step == SampleCsvStep.Empty ? 1 : 0;
            if (++rows % RowsBetweenReports == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
                share.Report((double)content.Position / content.Length);
            }
        }

        return (step, new SampleFileResult(Imported: false, rows, bad, empty, null, null, reader.Trucks));
    }

    private async Task<SampleFileResult> StoreAsync(string path, IProgress<double> share, CancellationToken cancellationToken)
    {
        long rows = 0, bad = 0, empty = 0, added = 0, changed = 0;
        var counting = store as ICountingTelemetryStore;
        await using var content = Open(path);
        using var reader = new SampleCsvReader(Path.GetFileName(path), content, latest, _ => { });
        var batch = new List<Sample>(BatchSamples);
        while (reader.Read(out var sample) is var step && step != SampleCsvStep.End)
        {
            if (step == SampleCsvStep.Broken)
            {
                throw Changed(path);
            }

            rows++;
            bad += step == SampleCsvStep.Bad ? 1 : 0;
            empty += step == SampleCsvStep.Empty ? 1 : 0;
            if (step != SampleCsvStep.Sample)
            {
                continue;
            }

            batch.Add(sample);
            if (batch.Count == BatchSamples)
            {
                await FlushAsync();
                share.Report((double)content.Position / content.Length);
            }
        }

        await FlushAsync();
        return new SampleFileResult(
            Imported: true, rows, bad, empty, counting is null ? null : added, counting is null ? null : changed, reader.Trucks);

        async Task FlushAsync()
        {
            try
            {
                if (counting is not null)
                {
                    var tally = await counting.WriteCountedAsync(batch, cancellationToken);
                    added += tally.Added;
                    changed += tally.Changed;
                }
                else
                {
                    await store.WriteAsync(batch, cancellationToken);
                }
            }
            catch (StoreUnavailableException e)
            {
                throw new CommandFailedException(
                    string.Create(CultureInfo.InvariantCulture, $"{e.Message} About {rows - batch.Count} rows of {path} are stored; import it again then, what is stored is not stored twice."), e);
            }

            batch.Clear();
        }
    }
}
