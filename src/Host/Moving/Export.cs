using Vanehour.Fleet.Import;
using Vanehour.Host.Commands;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Rounds;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Moving;

/// <summary>Writes samples or results as CSV, row by row as they are read.</summary>
internal sealed class Export
{
    private readonly DataFolder data;
    private readonly ExportRequest request;
    private readonly TimeProvider time;

    public Export(DataFolder data, ExportRequest request, TimeProvider time)
    {
        this.data = data;
        this.request = request;
        this.time = time;
    }

    /// <summary>Writes what was asked for and says how many rows it wrote.</summary>
    /// <exception cref="CommandFailedException">A truck is neither registered nor was it ever heard, or nothing is analysed yet.</exception>
    public async Task<long> WriteAsync(TextWriter output, IProgress<double> share, CancellationToken cancellationToken)
    {
        var heard = await data.Samples.TrucksAsync(cancellationToken);
        var registered = data.Register.Trucks().Select(t => t.Id).ToList();
        var known = heard.Select(t => t.Truck).Concat(registered).ToHashSet(StringComparer.Ordinal);
        if (request.Trucks.FirstOrDefault(t => !known.Contains(t)) is { } unknown)
        {
            throw new CommandFailedException($"Truck '{unknown}' is not registered and was never heard; see 'vanehour trucks'.");
        }

        switch (request.Table)
        {
            case ExportTable.Samples:
                return await SamplesAsync(output, [.. heard.Where(t => t.Samples > 0 && request.Holds(t.Truck))], share, cancellationToken);
            case ExportTable.Runs:
                return Rows(output, Runs([.. registered.Where(request.Holds)], share, cancellationToken), RunsCommand.CsvColumns);
            case ExportTable.Wear:
                return Rows(output, data.RequireAnalysis().Wear.Where(w => request.Holds(w.Truck)), WearCommand.Columns);
            case ExportTable.Findings:
                return Rows(output, data.RequireAnalysis().Findings.Where(f => request.Holds(f.Truck) && request.Holds(f.Since)), FindingsCommand.Columns(isTrade: false));
            case ExportTable.Plan:
                return Rows(output, new PlanJob(data, SettingsFile.Read(data.Folder), time).Current(data.RequireAnalysis()).Plan.Jobs.Where(j => request.Holds(j.Truck)), PlanPage.Columns);
            case ExportTable.Rounds:
                var rounds = RoundReading.Of(data, RoundReading.Now(data, time), t => request.Holds(t.Id), cancellationToken);
                return Rows(output, RoundsCommand.Rows(rounds, TruckRounds.InOrder(rounds)), RoundsCommand.CsvColumns);
            default:
                return Rows(output, (await TruckRows.ReadAsync(data, cancellationToken)).Where(r => request.Holds(r.Truck)), TrucksCommand.Columns);
        }
    }

    private static long Rows<T>(TextWriter output, IEnumerable<T> rows, IReadOnlyList<Column<T>> columns)
    {
        long count = 0;
        Listing.WriteCsv(output, Counted(), columns);
        return count;

        IEnumerable<T> Counted()
        {
            foreach (var row in rows)
            {
                count++;
                yield return row;
            }
        }
    }

    private async Task<long> SamplesAsync(
        TextWriter output, IReadOnlyList<TruckExtent> trucks, IProgress<double> share, CancellationToken cancellationToken)
    {
        const int RowsBetweenReports = 20_000;
        var writer = new SampleCsvWriter(output);
        writer.WriteHeader();
        long count = 0;
        long before = 0;
        var all = Math.Max(1, trucks.Sum(t => t.Samples));
        var from = request.From?.ToUnixTimeMilliseconds() ?? long.MinValue;
        var to = request.To?.ToUnixTimeMilliseconds() ?? long.MaxValue;
        foreach (var truck in trucks)
        {
            long ofTruck = 0;
            await foreach (var sample in data.Samples.ReadAsync(truck.Truck, from, to, cancellationToken))
            {
                writer.Write(sample);
                if (++ofTruck % RowsBetweenReports == 0)
                {
                    share.Report(Math.Min(1, (double)(before + ofTruck) / all));
                }
            }

            count += ofTruck;
            before += truck.Samples;
        }

        writer.Flush();
        return count;
    }

    private IEnumerable<RunRow> Runs(IReadOnlyList<string> trucks, IProgress<double> share, CancellationToken cancellationToken)
    {
        for (var i = 0; i < trucks.Count; i++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            foreach (var run in data.Runs.Read(trucks[i], request.From, request.To))
            {
                yield return RunRow.Of(run);
            }

            share.Report((i + 1.0) / trucks.Count);
        }
    }
}
