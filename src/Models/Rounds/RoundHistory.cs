using Vanehour.Fleet;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Rounds;

/// <summary>What says of one truck's checks that they were done.</summary>
internal sealed class RoundHistory
{
    private readonly List<(ServiceRecord Record, HashSet<string> Names)> marks;
    private readonly Run? lastCheck;

    public RoundHistory(string truck, IEnumerable<ServiceRecord> records, IReadOnlyList<Run> runs)
    {
        Records = [.. records.Where(r => r.Truck == truck).OrderBy(r => r.At)];
        marks = [.. Records.Where(r => r.Kind == ServiceKind.Round).Select(r => (r, RoundNote.Names(r.Note).ToHashSet(StringComparer.Ordinal)))];
        lastCheck = runs.LastOrDefault(r => r.FirstPumpDown is { IsStartUpCheck: true });
    }

    /// <summary>The truck's records, in order of time.</summary>
    public IReadOnlyList<ServiceRecord> Records { get; }

    /// <summary>Whether the crew keeps a check: it has marked its round or the check itself at least once.</summary>
    public bool Keeps(RoundCheck check) =>
        marks.Any(m => Names(m.Names, check))
        || (check.KeptByRecords && Records.Any(r => check.DoneBy.Contains(r.Kind)));

    /// <summary>The latest time a check was done; null where nothing says so.</summary>
    public RoundDone? LastDone(RoundCheck check)
    {
        IEnumerable<RoundDone?> all =
        [
            Marked(check),
            Records.LastOrDefault(r => check.DoneBy.Contains(r.Kind)) is { } record ? new RoundDone(record.At, RoundEvidence.ServiceRecord, null, record.MeterH) : null,
            check.TickedBy.Contains(RoundTick.StartUpCheck) && lastCheck is { } run ? new RoundDone(run.FirstPumpDown!.Start, RoundEvidence.StartUpCheck, null, run.MeterStartH) : null,
        ];
        return all.OfType<RoundDone>().OrderBy(d => d.At).LastOrDefault();
    }

    private static string NameOf(RoundKind round) => round.ToString().ToLowerInvariant();

    // Checks by hours have no round that could be marked as a whole.
    private static bool Names(HashSet<string> names, RoundCheck check) =>
        names.Contains(check.Key) || (RoundTable.WholeRounds.Contains(check.Round) && names.Contains(NameOf(check.Round)));

    private RoundDone? Marked(RoundCheck check)
    {
        var (record, _) = marks.LastOrDefault(m => Names(m.Names, check) || check.AlsoIn.Any(round => m.Names.Contains(NameOf(round))));
        return record is null ? null : new RoundDone(record.At, RoundEvidence.RoundMark, RoundNote.By(record.Note), record.MeterH);
    }
}
