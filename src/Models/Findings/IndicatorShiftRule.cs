using Vanehour.Models.Indicators;

namespace Vanehour.Models.Findings;

/// <summary>Oil use high or low, running hot: an indicator that has left its expectation for good.</summary>
/// <param name="options">When a shift counts.</param>
public sealed class IndicatorShiftRule(ShiftOptions options) : IFindingRule
{
    private const int EvidenceRuns = 10;

    // Beyond it ten runs would tell no more than one.
    private const double HighestRho = 0.8;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        foreach (var judgement in state.Judgements)
        {
            var kinds = judgement.Definition.Indicator switch
            {
                Indicator.OilUse => [(FindingKind.OilUseHigh, 1), (FindingKind.OilUseLow, -1)],
                Indicator.TemperatureRise => [(FindingKind.RunningHot, 1)],
                Indicator.TemperatureHunting => [(FindingKind.CarryOver, 1)],
                _ => Array.Empty<(FindingKind, int)>(),
            };
            foreach (var (kind, sign) in kinds)
            {
                if (Find(judgement, kind, sign, state) is { } draft)
                {
                    yield return draft;
                }
            }
        }
    }

    private FindingDraft? Find(PumpJudgement judgement, FindingKind kind, int sign, PumpState state)
    {
        DateTimeOffset[] restarts = state.DealtWith.TryGetValue(kind, out var at) ? [at] : [];
        var judged = restarts.Length == 0 ? judgement.Judged : [.. judgement.Judged.Where(r => r.Start >= at)];
        var states = ShiftTracker.Track(judged, judgement.Rho, judgement.Definition.MattersFrom, options, restarts);
        var episode = Episode.Latest([.. states.Select(s => new Signpost(s.Run.Start, Math.Max(0, sign * s.Strength), s.RunShows == sign))]);
        if (episode is not { ClosedAt: null })
        {
            return null;
        }

        var shown = judgement.Points.Where(p => p.Expected is not null && p.At > episode.Since).TakeLast(EvidenceRuns).ToList();
        var hours = shown.Sum(p => p.RunHours);

        // The interval of one run is wider than that of the mean of several; neighbouring runs that resemble each other narrow it less.
        var rho = Math.Clamp(judgement.Rho, 0, HighestRho);
        var narrower = Math.Min(1, Math.Sqrt(shown.Sum(p => p.RunHours * p.RunHours)) / hours * Math.Sqrt((1 + rho) / (1 - rho)));
        return new FindingDraft(kind, episode.Since, false, [new Evidence(
            $"{judgement.Definition.Name}, mean of the last {shown.Count} runs",
            Mean(p => p.Seen),
            judgement.Definition.Unit,
            Mean(p => p.Expected!.Value - (narrower * (p.Expected.Value - p.ExpectedLow!.Value))),
            Mean(p => p.Expected!.Value + (narrower * (p.ExpectedHigh!.Value - p.Expected.Value))))]);

        double Mean(Func<IndicatorPoint, double> of) => shown.Sum(p => p.RunHours * of(p)) / hours;
    }
}
