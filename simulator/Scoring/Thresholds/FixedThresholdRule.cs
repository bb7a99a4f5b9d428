using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.Regression;

namespace Vanehour.Scoring;

/// <summary>
/// What a gauge with an alarm set once would do: fixed thresholds on what the runs show, two runs in a row, nothing learned. It is there to be scored beside the findings. The
/// thresholds are of our own and were fixed before anything was scored.
/// </summary>
public sealed class FixedThresholdRule : IFindingRule
{
    private const double OilHighShare = 1.5;
    private const double OilLowShare = 0.5;
    private const double HeldMinutes = 10;
    private const double SpeedOutsideShare = 0.5;
    private const double ReliefInHg = 2;
    private const double SlowerThan = 1.3;
    private const int FirstChecks = 10;
    private static readonly TimeSpan Silence = TimeSpan.FromHours(72);
    private static readonly TimeSpan Window = TimeSpan.FromDays(7);

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var model = state.Pump.Model;
        var checks = state.Pump.Runs.Where(r => r.FirstPumpDown is { IsStartUpCheck: true }).ToList();
        var wanted = model.ReliefVacuum?.Kilopascals;
        var usualS = checks.Select(c => c.FirstPumpDown!.WatchTime5To12InHgS).OfType<double>().Take(FirstChecks).ToList();
        var oil = model.OilRate?.LitresPerHour;
        FindingDraft?[] drafts =
        [
            Last(state, FindingKind.OilUseHigh, state.Pump.Runs, r => r.OilRateLPerH, v => v > OilHighShare * oil),
            Last(state, FindingKind.OilUseLow, state.Pump.Runs, r => r.OilRateLPerH, v => v < OilLowShare * oil),
            Last(state, FindingKind.RunningHot, state.Pump.Runs, r => r.PumpTempMaxC, v => v > model.MaxTemperature.Celsius),
            Last(state, FindingKind.HeldAboveVacuumLimit, state.Pump.Runs, r => r.MinutesAboveVacuumLimit, v => v > HeldMinutes),
            Last(state, FindingKind.PressureAboveLimit, state.Pump.Runs, r => r.PressureMaxKPa, v => v > model.MaxPressure.Kilopascals),
            Last(state, FindingKind.SpeedOutOfRange, state.Pump.Runs, r => r.SpeedOutsideShare, v => v > SpeedOutsideShare),
            Last(state, FindingKind.ReliefSettingMoved, checks, r => r.FirstPumpDown!.PlateauKPa, v => Math.Abs(v - wanted ?? 0) > Pressure.FromInchesOfMercury(ReliefInHg).Kilopascals),
            usualS.Count < FirstChecks
                ? null
                : Last(state, FindingKind.VacuumFading, checks, r => r.FirstPumpDown!.WatchTime5To12InHgS, v => v > SlowerThan * Robust.Median(usualS)),
            Back(state),
            Silent(state),
        ];
        return drafts.OfType<FindingDraft>();
    }

    // Open while two runs in a row within the last week were past the threshold.
    private static FindingDraft? Last(PumpState state, FindingKind kind, IReadOnlyList<Run> runs, Func<Run, double?> of, Func<double, bool> isPast)
    {
        var known = runs.Where(r => of(r) is not null).ToList();
        DateTimeOffset? since = null;
        DateTimeOffset? latest = null;
        for (var i = 1; i < known.Count; i++)
        {
            if (isPast(of(known[i])!.Value) && isPast(of(known[i - 1])!.Value))
            {
                since = latest is { } before && known[i].Start - before <= Window ? since : known[i - 1].Start;
                latest = known[i].Start;
            }
        }

        return since is { } at && state.AsOf - latest <= Window
            ? new FindingDraft(kind, at, false, [new Evidence("last run", of(known[^1])!.Value, string.Empty, null, null)])
            : null;
    }

    private static FindingDraft? Back(PumpState state)
    {
        for (var i = state.Pump.Runs.Count - 1; i > 0 && state.AsOf - state.Pump.Runs[i].Start <= Window; i--)
        {
            if (state.Pump.Runs[i].MeterStartH < state.Pump.Runs[i - 1].MeterEndH - 1)
            {
                return new FindingDraft(FindingKind.MeterJumped, state.Pump.Runs[i].Start, false, []);
            }
        }

        return null;
    }

    private static FindingDraft? Silent(PumpState state) =>
        state.Feed?.LastHeard is { } heard && state.AsOf - heard > Silence
            ? new FindingDraft(FindingKind.FeedSilent, heard, false, [new Evidence("silent for", (state.AsOf - heard).TotalHours, "h", null, Silence.TotalHours)])
            : null;
}
