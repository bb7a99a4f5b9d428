using System.Collections.Immutable;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>
/// Reads the signs of a pump: medians of the runs since a finding began against those of the weeks before it. From where on a difference counts is of our own; it must also be
/// more than the scatter of either median leaves room for.
/// </summary>
public static class SignReader
{
    // Enough to give a median that one bad run does not move, few enough that a young finding has them.
    private const int RecentRuns = 10;
    private const int RecentChecks = 6;
    private const int FewestRecent = 3;
    private const int FewestBefore = 6;

    // What grows slowly is found late: the last weeks before it was found are already its own.
    private static readonly TimeSpan Building = TimeSpan.FromDays(21);
    private static readonly TimeSpan LittleBuilding = TimeSpan.FromDays(2);
    private static readonly TimeSpan LookBack = TimeSpan.FromDays(120);

    private const double LimitSd = 2.5;

    // Below it a run was for off-loading under pressure, not for loading.
    private const double LeastWorkKPa = 25;

    /// <summary>Reads every sign that can be read.</summary>
    /// <param name="state">The pump.</param>
    /// <param name="since">When the finding began.</param>
    public static ImmutableArray<SignReading> Read(PumpState state, DateTimeOffset since)
    {
        ArgumentNullException.ThrowIfNull(state);
        var checks = state.Pump.Runs.Where(r => r.FirstPumpDown is { IsStartUpCheck: true }).ToList();
        var work = state.Pump.Runs.Where(r => r.FirstPumpDown is not { IsStartUpCheck: true } && r.VacuumMaxKPa > LeastWorkKPa).ToList();
        SignReading?[] readings =
        [
            .. state.Judgements.Select(j => OfJudgement(j, since)),
            Of(Sign.Speed, state.Pump.Runs, since, RecentRuns, r => r.SpeedMeanRpm, "rpm", v => 0.025 * v),
            Of(Sign.NetFlow, checks, since, RecentChecks, r => 1000 * r.FirstPumpDown!.NetFlowPerVolumePerS, "1/1000 s", v => 0.04 * v),
            Of(Sign.LeakRatio, checks, since, RecentChecks, r => r.FirstPumpDown!.LeakRatio, "1", v => 0.25 * v),
            Of(Sign.UltimateVacuum, checks, since, RecentChecks, r => r.FirstPumpDown!.UltimateKPa, "kPa", _ => 1.5),
            Of(Sign.ReliefLift, [.. checks.Where(r => r.FirstPumpDown!.EndedAtRelief)], since, RecentChecks, r => r.FirstPumpDown!.PlateauKPa, "kPa", _ => 2),
            Of(Sign.WorkingVacuum, work, since, RecentRuns, r => r.VacuumMaxKPa, "kPa", _ => 4),
        ];
        return [.. readings.OfType<SignReading>().OrderBy(r => r.Sign)];
    }

    private static SignReading? OfJudgement(PumpJudgement judgement, DateTimeOffset since)
    {
        if (Split(judgement.Judged, r => r.Start, r => r.Deviation, since, RecentRuns) is not { } split)
        {
            return null;
        }

        // Deviations are compared, so that weather and work are taken out; what is shown is the expectation beside what was seen. In the unit of the indicator.
        var expected = Robust.Median(judgement.Judged.Where(r => r.Start >= since).TakeLast(RecentRuns).Select(r => r.Expected));
        (Sign Sign, double Matters)? read = judgement.Definition.Indicator switch
        {
            Indicator.OilUse => (Sign.OilUse, 0.07 * Math.Abs(expected)),
            Indicator.TemperatureRise => (Sign.TemperatureRise, 2.5),
            Indicator.TemperatureHunting => (Sign.TemperatureHunting, Math.Max(0.04, 0.12 * expected)),
            _ => null,
        };
        return read is not var (sign, matters)
            ? null
            : new SignReading(sign, State(split, matters), expected + split.Before, expected + split.Recent, judgement.Definition.Unit);
    }

    private static SignReading? Of(
        Sign sign, IReadOnlyList<Run> runs, DateTimeOffset since, int recent, Func<Run, double?> of, string unit, Func<double, double> matters)
    {
        var known = runs.Select(r => (r.Start, Value: of(r))).Where(r => r.Value is not null).ToList();
        return Split(known, r => r.Start, r => r.Value!.Value, since, recent) is not { } split
            ? null
            : new SignReading(sign, State(split, matters(Math.Abs(split.Before))), split.Before, split.Recent, unit);
    }

    private static (double Before, double Recent, double Error)? Split<T>(
        IReadOnlyList<T> rows, Func<T, DateTimeOffset> at, Func<T, double> value, DateTimeOffset since, int recent)
    {
        double[] after = [.. rows.Where(r => at(r) >= since).TakeLast(recent).Select(value)];
        double[] before = [.. rows.Where(r => at(r) < since - Building && at(r) >= since - LookBack).Select(value)];
        if (before.Length < FewestBefore)
        {
            before = [.. rows.Where(r => at(r) < since - LittleBuilding && at(r) >= since - LookBack).Select(value)];
        }

        if (after.Length < FewestRecent || before.Length < FewestBefore)
        {
            return null;
        }

        // A median of n values has pi/2 times the variance of a mean.
        var spread = Robust.Spread(before);
        var error = spread * Math.Sqrt(Math.PI / 2 * ((1.0 / before.Length) + (1.0 / after.Length)));
        return (Robust.Median(before), Robust.Median(after), error);
    }

    private static SignState State((double Before, double Recent, double Error) split, double matters)
    {
        var moved = split.Recent - split.Before;
        return Math.Abs(moved) < matters || Math.Abs(moved) < LimitSd * split.Error ? SignState.Normal
            : moved > 0 ? SignState.High
            : SignState.Low;
    }
}
