using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Findings;

/// <summary>
/// Carries on what the watch of new samples raised: it saw the samples of a run that no analysis has yet, and may have seen less than the other rules ask for.
/// It shows until some later runs have kept the limit, or a person closes it; then the other rules alone decide.
/// </summary>
public sealed class WatchedRule : IFindingRule
{
    // Of our own: about half a day's work, so that one job with a light load does not call it off.
    private const int CleanRuns = 3;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        foreach (var (kind, finding) in state.Watched)
        {
            if (finding.Watched is { } seen && state.Pump.Runs.Where(r => r.Start > seen.LastSeen).Count(r => IsClean(kind, r, seen)) < CleanRuns)
            {
                yield return new FindingDraft(kind, finding.Since, true, WatchedFindings.EvidenceOf(kind, seen)) { Watched = seen };
            }
        }
    }

    // A run without the signal says nothing.
    private static bool IsClean(FindingKind kind, Run run, WatchedLimit seen) => kind switch
    {
        FindingKind.HeldAboveVacuumLimit => run.MinutesAboveVacuumLimit <= seen.HoldS / 60,
        FindingKind.PressureAboveLimit => run.PressureMaxKPa <= seen.Limit,
        _ => run.PumpTempMaxC <= seen.Limit,
    };
}
