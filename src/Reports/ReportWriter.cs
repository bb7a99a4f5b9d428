using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Models.Results;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Rounds;
using Vanehour.Reports.Trucks;
using Vanehour.Store.Runs;

namespace Vanehour.Reports;

/// <summary>Writes reports as PNG files. A file is written beside its place and then moved there, so that a reader never sees half a picture.</summary>
public static class ReportWriter
{
    private const string OverviewName = "fleet-overview";

    /// <summary>Writes the page of one truck.</summary>
    /// <param name="data">What to draw.</param>
    /// <param name="outputDir">The folder; made where it does not exist.</param>
    /// <param name="options">How to draw it.</param>
    /// <returns>The file's path: truck-ID.png.</returns>
    /// <exception cref="ArgumentException">The truck's id breaks the rule for ids.</exception>
    /// <exception cref="IOException">The folder can't be written.</exception>
    public static string WriteTruck(TruckReportData data, string outputDir, ReportOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        var name = ReportFileName.OfTruck(data.Truck.Id);
        return Save(outputDir, name, TruckReport.Render(data, options));
    }

    /// <summary>Writes the overview of the fleet: fleet-overview.png, then fleet-overview-2.png and so on where one page is not enough.
    /// Further pages left from an earlier, larger overview are removed.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="trucks">The register's trucks.</param>
    /// <param name="outputDir">The folder; made where it does not exist.</param>
    /// <param name="options">How to draw it.</param>
    /// <returns>The files' paths, first page first.</returns>
    /// <exception cref="IOException">The folder can't be written.</exception>
    public static IReadOnlyList<string> WriteFleet(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks, string outputDir, ReportOptions options)
    {
        var pages = FleetOverview.Render(snapshot, trucks, options);
        var files = new List<string>();
        foreach (var page in pages)
        {
            files.Add(Save(outputDir, PageName(files.Count + 1), page));
        }

        for (var stale = pages.Count + 1; File.Exists(Path.Combine(outputDir, PageName(stale))); stale++)
        {
            File.Delete(Path.Combine(outputDir, PageName(stale)));
        }

        return files;
    }

    /// <summary>Writes the overview of the fleet and the page of every truck, or of some trucks only.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="register">Where the trucks, pump models and service records are.</param>
    /// <param name="runs">Where the runs are; read truck by truck.</param>
    /// <param name="outputDir">The folder; made where it does not exist.</param>
    /// <param name="options">How to draw.</param>
    /// <param name="only">The ids of the trucks wanted, then without the overview; null for all.</param>
    /// <param name="progress">Told of each file written.</param>
    /// <param name="cancellationToken">Stops between two files.</param>
    /// <returns>The files' paths: the overview's pages, then the trucks' in order of id.</returns>
    /// <exception cref="ArgumentException">A truck wanted is not registered.</exception>
    /// <exception cref="IOException">The folder can't be written.</exception>
    public static IReadOnlyList<string> WriteAll(
        AnalysisSnapshot snapshot,
        IFleetRegister register,
        IRunStore runs,
        string outputDir,
        ReportOptions options,
        IReadOnlyCollection<string>? only = null,
        IProgress<ReportProgress>? progress = null,
        CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        ArgumentNullException.ThrowIfNull(register);
        ArgumentNullException.ThrowIfNull(runs);

        var all = register.Trucks();
        var wanted = only is null ? all : Pick(all, only);
        var models = register.PumpModels();
        var files = new List<string>();
        if (only is null)
        {
            files.AddRange(WriteFleet(snapshot, all, outputDir, options));
        }

        var shared = SharingLetters(all);
        var done = 0;
        foreach (var truck in wanted)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var data = TruckReportData.Of(snapshot, truck, models, runs.Read(truck.Id), register.ServiceRecords(truck.Id));
            var name = shared.Contains(truck.Id) ? ReportFileName.OfTruckSharingLetters(truck.Id) : ReportFileName.OfTruck(truck.Id);
            files.Add(Save(outputDir, name, TruckReport.Render(data, options)));
            progress?.Report(new ReportProgress(++done, wanted.Count, files[^1]));
        }

        return files;
    }

    /// <summary>Writes the sheet of rounds of each truck: rounds-ID.png.</summary>
    /// <param name="rounds">The rounds, a truck each.</param>
    /// <param name="trucks">Every truck of the register: ids that differ by case only get names of their own.</param>
    /// <param name="outputDir">The folder; made where it does not exist.</param>
    /// <param name="options">How to draw.</param>
    /// <param name="cancellationToken">Stops between two files.</param>
    /// <returns>The files' paths, in the order given.</returns>
    /// <exception cref="IOException">The folder can't be written.</exception>
    public static IReadOnlyList<string> WriteRounds(
        IReadOnlyList<TruckRounds> rounds, IReadOnlyList<Truck> trucks, string outputDir, ReportOptions options, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(rounds);
        ArgumentNullException.ThrowIfNull(trucks);
        var shared = SharingLetters(trucks);
        var files = new List<string>();
        foreach (var one in rounds)
        {
            cancellationToken.ThrowIfCancellationRequested();
            files.Add(Save(outputDir, ReportFileName.OfRounds(one.Truck.Id, shared.Contains(one.Truck.Id)), RoundSheet.Render(one, options)));
        }

        return files;
    }

    // Ids differ by case, files on some systems do not: such trucks get names of their own whatever is asked for.
    private static HashSet<string> SharingLetters(IEnumerable<Truck> trucks) => trucks.Select(t => t.Id)
        .GroupBy(id => id, StringComparer.OrdinalIgnoreCase)
        .Where(g => g.Count() > 1)
        .SelectMany(g => g)
        .ToHashSet(StringComparer.Ordinal);

    private static List<Truck> Pick(IReadOnlyList<Truck> all, IReadOnlyCollection<string> only)
    {
        var ids = only.ToHashSet(StringComparer.Ordinal);
        var picked = all.Where(t => ids.Remove(t.Id)).ToList();
        return ids.Count == 0
            ? picked
            : throw new ArgumentException($"Not registered: {string.Join(", ", ids.Order(StringComparer.Ordinal))}.", nameof(only));
    }

    private static string PageName(int page) =>
        page == 1 ? OverviewName + ".png" : FormattableString.Invariant($"{OverviewName}-{page}.png");

    private static string Save(string outputDir, string name, byte[] png)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(outputDir);
        Directory.CreateDirectory(outputDir);
        var target = Path.Combine(outputDir, name);
        var temporary = Path.Combine(outputDir, Path.GetRandomFileName() + ".tmp");
        try
        {
            File.WriteAllBytes(temporary, png);
            File.Move(temporary, target, overwrite: true);
        }
        catch
        {
            File.Delete(temporary);
            throw;
        }

        return target;
    }
}
