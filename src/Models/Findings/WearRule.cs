using System.Collections.Immutable;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>Vanes near their limit, and vacuum that fades: far gone, faster than the other trucks', or below the pump's own line.</summary>
/// <param name="options">From where on.</param>
/// <param name="shift">How a row of checks is followed.</param>
public sealed class WearRule(FindingOptions options, ShiftOptions shift) : IFindingRule
{
    // An open finding closes only when the date has moved well away.
    private const double CloseFactor = 1.5;

    // Lower ends must be past this, or a wide interval alone would raise the finding.
    private const double LeastLowShare = 2.0 / 3;

    // An open finding goes on until this share of what opens it, so that the noise of one more check does not close and open it again.
    private const double GoesOnShare = 0.8;

    // Against a baseline from the nameplate alone half of the interval may lie near the limit without a word of truth in it.
    private const double LeastLowNear = 0.6;

    private const int FewestPeers = 3;
    private const double Lambda = 0.3;

    // 10 % quantile of a normal, as the interval's low end.
    private const double LowSd = 1.2816;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        if (state.Wear.Wear is not { } wear)
        {
            yield break;
        }

        var lastCheck = state.Wear.Checks[^1].At;
        var isOpen = state.OpenBefore.Contains(FindingKind.VanesNearLimit);
        var days = isOpen ? CloseFactor * options.VanesLeadDays : options.VanesLeadDays;
        var isNear = state.Wear.DateOfLimit?.P50 <= state.Wear.AsOf.AddDays(days) || state.Wear.HoursToLimit?.P50 <= 0;
        if (isNear && wear.Low >= (isOpen ? GoesOnShare : 1) * LeastLowNear && IsNews(state, FindingKind.VanesNearLimit) && WearLikeness.Of(state))
        {
            yield return new FindingDraft(FindingKind.VanesNearLimit, lastCheck, wear.Low >= 1,
            [
                new Evidence("wear", wear.Mid, "1", null, 1),
                .. state.Wear.HoursToLimit?.P50 is { } hours ? [new Evidence("PTO hours to the limit", hours, "h", null, null)] : Array.Empty<Evidence>(),
            ]);
        }

        if (Fading(state, wear) is { } fading)
        {
            yield return fading;
        }
    }

    // The line and its forecast look back over the whole life; after a person has dealt with them only a check made since may raise them again.
    private static bool IsNews(PumpState state, FindingKind kind) =>
        !state.DealtWith.TryGetValue(kind, out var at) || state.Wear.Checks[^1].At >= at;

    private FindingDraft? Fading(PumpState state, LowMidHigh wear)
    {
        var evidence = ImmutableArray.CreateBuilder<Evidence>();
        var since = state.Wear.Checks[^1].At;
        var share = state.OpenBefore.Contains(FindingKind.VacuumFading) ? GoesOnShare : 1;
        var isNews = IsNews(state, FindingKind.VacuumFading);
        if (isNews && wear.Mid >= share * options.FadingWear && wear.Low >= share * LeastLowShare * options.FadingWear)
        {
            evidence.Add(new Evidence("wear", wear.Mid, "1", null, options.FadingWear));
        }

        var rates = state.PeerWear.Select(w => w.WearPer1000H).OfType<double>().ToList();
        if (isNews && rates.Count >= FewestPeers && state.Wear.WearPer1000H is { } rate && state.Wear.WearPer1000HSe is { } se)
        {
            var usual = share * options.FadingRateRatio * Robust.Median(rates);

            // Wear that is small so far may grow fast by the noise alone.
            if (usual > 0 && rate - (LowSd * se) > usual && wear.Low > share * options.FadingWear / 4)
            {
                evidence.Add(new Evidence("wear per 1000 h", rate, "1", null, usual));
            }
        }

        if (BelowOwnLine(state, wear, share) is var (episode, drop))
        {
            evidence.Add(new Evidence("flow kept, recent checks below the pump's own line", drop, "1", -options.FadingDrop, null));
            since = episode.Since;
        }

        return evidence.Count == 0 ? null : new FindingDraft(FindingKind.VacuumFading, since, false, evidence.ToImmutable());
    }

    private (Episode Episode, double Drop)? BelowOwnLine(PumpState state, LowMidHigh wear, double share)
    {
        var from = state.DealtWith.GetValueOrDefault(FindingKind.VacuumFading, DateTimeOffset.MinValue);
        var range = 1 - state.Wear.FlowKeptLimit;
        var judged = state.Wear.Checks.Where(c => c.At >= from).Select(c =>
        {
            var line = wear.Mid - ((state.Wear.WearPer1000H ?? 0) * (state.Wear.HoursSinceFitting - c.HoursSinceFitting) / 1000);
            // Steps are another finding's business.
            return new JudgedRun(c.At, c.At, 1 - (range * c.Wear), 1 - (range * line), c.FlowKeptSe, 0);
        }).ToList();
        var states = ShiftTracker.Track(judged, 0, _ => options.FadingDrop, shift with { Lambda = Lambda });
        return Episode.Latest([.. states.Select(s => new Signpost(s.Run.Start, Math.Max(0, -s.Strength) / share, s.RunShows < 0))]) is { ClosedAt: null } open
            ? (open, states[^1].Shift)
            : null;
    }
}
