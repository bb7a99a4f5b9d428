using Vanehour.Fleet;
using Vanehour.Models.ChangePoints;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>
/// Tells whether what a finding shows came at one stroke or grew, and whether a service record stands beside it: a change point in the row of days (of start-up checks for
/// relief setting and flow) that leads to the finding.
/// </summary>
public static class BeginningReader
{
    private static readonly TimeSpan LookBack = TimeSpan.FromDays(180);

    // A finding opens some days after its cause, weeks after one that grows.
    private static readonly TimeSpan Lead = TimeSpan.FromDays(60);
    private static readonly TimeSpan RecordMargin = TimeSpan.FromDays(2);

    // The smallest change that is looked for: of the flow as new, and of the relief valve's vacuum. Of our own.
    private const double FlowMatters = 0.02;
    private const double ReliefMattersKPa = 1;

    // With the service kinds that change nothing about the pump left out.
    private static readonly ServiceKind[] Idle = [ServiceKind.VaneWidth, ServiceKind.GaugeCheck, ServiceKind.OilFill, ServiceKind.Round];

    /// <summary>How a finding began; null where no change stands out.</summary>
    /// <param name="state">The pump.</param>
    /// <param name="draft">The finding.</param>
    public static Beginning? Read(PumpState state, FindingDraft draft)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(draft);
        if (Row(state, draft) is not { } row)
        {
            return null;
        }

        var series = new ChangeSeries([.. row.Days.Select(d => (d.At - row.Days[0].At).TotalDays)], [.. row.Days.Select(d => d.Value)], [.. row.Days.Select(d => d.Se)]);
        var change = ChangeSearch.Find(series, new ChangeSearchOptions { HasSlope = row.HasSlope, MattersFrom = row.Matters })
            .LastOrDefault(c => Math.Sign(c.Size) == row.Sign && AtOf(c) <= draft.Since.AddDays(1) && AtOf(c) >= draft.Since - Lead);
        if (change is null)
        {
            return null;
        }

        var at = AtOf(change);
        var service = change.Kind == ChangeKind.Step
            ? state.Pump.Records.LastOrDefault(r => !Idle.Contains(r.Kind) && r.At >= at - RecordMargin && r.At <= at + TimeSpan.FromDays(1))?.Kind
            : null;
        return new Beginning(change.Kind, at, change.Size, row.Unit, service);

        DateTimeOffset AtOf(ChangePoint c) => row.Days[Math.Min(c.After + 1, row.Days.Count - 1)].At;
    }

    private static ValueRow? Row(PumpState state, FindingDraft draft) =>
        draft.Kind switch
        {
            FindingKind.OilUseHigh => OfJudgement(state, Indicator.OilUse, 1),
            FindingKind.OilUseLow => OfJudgement(state, Indicator.OilUse, -1),
            FindingKind.RunningHot => OfJudgement(state, Indicator.TemperatureRise, 1),
            FindingKind.CarryOver => OfJudgement(state, Indicator.TemperatureHunting, 1),
            FindingKind.VacuumFading when state.Wear.Checks.Length > 0 =>
                new ValueRow([.. state.Wear.Checks.Where(c => c.At >= state.AsOf - LookBack).Select(c => (c.At, c.FlowKept, c.FlowKeptSe))], -1, "1", FlowMatters, true),
            FindingKind.ReliefSettingMoved when draft.Side != FindingSide.Either => OfRelief(state, draft.Side == FindingSide.High ? 1 : -1),
            _ => null,
        };

    private static ValueRow? OfJudgement(PumpState state, Indicator indicator, int sign)
    {
        var judgement = state.Judgements.FirstOrDefault(j => j.Definition.Indicator == indicator);
        if (judgement is null)
        {
            return null;
        }

        // One value a day: its median, known the better the more runs it has.
        var days = judgement.Judged
            .Where(r => r.Start >= state.AsOf - LookBack)
            .GroupBy(r => r.Start.UtcDateTime.Date)
            .Select(g => (g.First().Start, Robust.Median(g.Select(r => r.Deviation)), g.Average(r => r.NoiseSd) / Math.Sqrt(g.Count())))
            .ToList();
        return days.Count == 0 ? null : new ValueRow(days, sign, judgement.Definition.Unit, judgement.Definition.MattersFrom(judgement.Judged[^1].Expected) / 2, false);
    }

    private static ValueRow? OfRelief(PumpState state, int sign)
    {
        var checks = state.Pump.Runs
            .Select(r => r.FirstPumpDown)
            .Where(d => d is { IsStartUpCheck: true, EndedAtRelief: true } && d.Start >= state.AsOf - LookBack)
            .Select(d => (d!.Start, d.PlateauKPa, 1.0))
            .ToList();
        return checks.Count == 0 ? null : new ValueRow(checks, sign, "kPa", ReliefMattersKPa, false);
    }

    /// <summary>Values in order of time, the side on which the finding lies, and what to look for.</summary>
    private sealed record ValueRow(List<(DateTimeOffset At, double Value, double Se)> Days, int Sign, string Unit, double Matters, bool HasSlope);
}
