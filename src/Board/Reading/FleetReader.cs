using System.Collections.Frozen;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.Results;
using Vanehour.Store.Sqlite;

namespace Vanehour.Board.Reading;

/// <summary>
/// Reads the fleet for the pages and keeps what it read while the database file stays the same. Where another process writes without end, as an analysis does,
/// what was read counts for a few seconds, so that no page waits for every commit.
/// </summary>
/// <param name="fleet">The fleet.</param>
public sealed class FleetReader(BoardFleet fleet)
{
    private static readonly TimeSpan GoodFor = TimeSpan.FromSeconds(3);

    private readonly Lock gate = new();
    private FleetNow? kept;
    private DateTimeOffset keptAt;
    private bool mustRead;
    private bool keptWhileAnalysing;

    /// <summary>The fleet as it stands.</summary>
    public FleetNow Now()
    {
        lock (gate)
        {
            var stamp = Stamp();
            var now = fleet.Time.GetUtcNow();

            // What an analysis that was asked for has found shows at once when it is done.
            var isAnalysing = fleet.Desk.IsAnalysing;
            var isJustAnalysed = keptWhileAnalysing && !isAnalysing;
            if (kept is { } held && !mustRead && !isJustAnalysed && (held.Stamp == stamp || now - keptAt < GoodFor))
            {
                return held;
            }

            mustRead = false;
            keptWhileAnalysing = isAnalysing;
            keptAt = now;
            return kept = Read(stamp);
        }
    }

    /// <summary>What was read does not count any more: somebody has just changed something through the Board.</summary>
    public void Forget()
    {
        lock (gate)
        {
            mustRead = true;
        }
    }

    /// <summary>All that the analysis says of one truck; null where nothing is analysed.</summary>
    public AnalysisSnapshot? AnalysisOf(Truck truck, FleetNow now)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(now);
        return now.AsOf is not { } asOf ? null : new AnalysisSnapshot
        {
            AsOf = asOf,
            Models = [],
            Series = [.. new AnalysisReader(fleet.Results, fleet.Findings).SeriesOf(asOf, truck.Id)],
            Wear = now.Wear.TryGetValue(truck.Id, out var wear) ? [wear] : [],
            Findings = [.. now.FindingsOf[truck.Id]],
        };
    }

    private FleetNow Read(string stamp)
    {
        var asOf = fleet.Results.LatestAsOf();
        var trucks = fleet.Register.Trucks();
        var findings = new FindingBook(fleet.Findings).Current();
        var book = new PlanBook(fleet.Plans);
        return new FleetNow
        {
            Stamp = stamp,
            AsOf = asOf,
            Trucks = [.. trucks],
            ById = trucks.ToFrozenDictionary(t => t.Id, StringComparer.Ordinal),
            Models = [.. fleet.Register.PumpModels()],
            Wear = (asOf is { } at ? new AnalysisReader(fleet.Results, fleet.Findings).WearOf(at) : []).ToFrozenDictionary(w => w.Truck, StringComparer.Ordinal),
            Findings = [.. findings],
            FindingsOf = findings.Where(f => f.Truck is not null).ToLookup(f => f.Truck!, StringComparer.Ordinal),
            Plan = book.Latest(),
            Marks = [.. book.Marks()],
        };
    }

    /// <summary>Changes whenever a page would show something else but for the clock, and on pages other than feeds for what trucks were last heard.</summary>
    /// <param name="of">feeds: the page of feeds, which shows what arrives; else the others.</param>
    public string StampOf(string? of)
    {
        var analysis = fleet.Desk.IsAnalysing ? "at-work" : fleet.Desk.AnalysisProblem is { } problem ? $"failed-{problem.GetHashCode(StringComparison.Ordinal):x}" : "done";
        return of == "feeds" ? $"{FilesStamp(SamplesSchema.Current.FileName)} {(fleet.Feed() is { Problem: null } ? "in" : "out")} {Now().Stamp} {analysis}" : $"{Now().Stamp} {analysis}";
    }

    // The write-ahead log grows or begins again with every commit, and either changes its length or its time.
    private string Stamp() => FilesStamp(FleetSchema.Current.FileName);

    private string FilesStamp(string database) => string.Join('/', ((string[])[database, database + "-wal"]).Select(name =>
    {
        var file = new FileInfo(Path.Combine(fleet.Folder, name));
        return file.Exists ? string.Create(CultureInfo.InvariantCulture, $"{file.Length:x}.{file.LastWriteTimeUtc.Ticks:x}") : "-";
    }));
}
