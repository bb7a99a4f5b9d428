using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Findings;

/// <summary>Limits of the pump model that runs pass again and again: vacuum, pressure, temperature, speed.</summary>
/// <param name="options">How often counts.</param>
public sealed class RunLimitRule(FindingOptions options) : IFindingRule
{
    private const int Window = 10;
    private static readonly TimeSpan Week = TimeSpan.FromDays(7);

    // Over about five runs: a day's work.
    private const double SpeedLambda = 0.2;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        FindingDraft?[] found = [Vacuum(state), Pressure(state), Temperature(state), Speed(state)];
        return found.OfType<FindingDraft>();
    }

    private FindingDraft? Vacuum(PumpState state)
    {
        var runs = state.RunsFor(FindingKind.HeldAboveVacuumLimit).ToList();
        var posts = new List<Signpost>(runs.Count);
        var first = 0;
        var minutes = 0.0;
        foreach (var run in runs)
        {
            minutes += run.MinutesAboveVacuumLimit ?? 0;
            while (run.Start - runs[first].Start > Week)
            {
                minutes -= runs[first++].MinutesAboveVacuumLimit ?? 0;
            }

            posts.Add(new Signpost(run.Start, minutes / options.HeldMinutesInWeek, run.MinutesAboveVacuumLimit > 0));
        }

        return Open(posts) is not { } episode
            ? null
            : new FindingDraft(FindingKind.HeldAboveVacuumLimit, episode.Since, true,
            [
                new Evidence("time above the continuous vacuum limit in seven days", minutes, "min", 0, options.HeldMinutesInWeek),
                .. Highest(runs.Where(r => r.Start >= episode.Since), "highest vacuum", r => r.VacuumMaxKPa, "kPa", state.Pump.Model.MaxVacuum.Kilopascals),
            ]);
    }

    private FindingDraft? Pressure(PumpState state) => Counted(
        state,
        FindingKind.PressureAboveLimit,
        r => r.PressureMaxKPa,
        state.Pump.Model.MaxPressure.Kilopascals,
        options.PressureTolerance * state.Pump.Model.MaxPressure.Kilopascals,
        "highest tank pressure",
        "kPa");

    private FindingDraft? Temperature(PumpState state) => Counted(
        state,
        FindingKind.RunningHot,
        r => r.PumpTempMaxC,
        state.Pump.Model.MaxTemperature.Celsius,
        state.Pump.Model.MaxTemperature.Celsius,
        "highest pump temperature",
        "Cel");

    private FindingDraft? Counted(PumpState state, FindingKind kind, Func<Run, double?> of, double limit, double from, string name, string unit)
    {
        var runs = state.RunsFor(kind).Where(r => of(r) is not null).ToList();
        var posts = runs.Select((r, i) => new Signpost(
            r.Start,
            runs.Skip(Math.Max(0, i - Window + 1)).Take(Math.Min(i + 1, Window)).Count(w => of(w) > from) / (double)options.LimitRunsOfTen,
            of(r) > from)).ToList();
        return Open(posts) is not { } episode
            ? null
            : new FindingDraft(kind, episode.Since, true, [.. Highest(runs.Where(r => r.Start >= episode.Since), name, of, unit, limit)]);
    }

    private FindingDraft? Speed(PumpState state)
    {
        var runs = state.RunsFor(FindingKind.SpeedOutOfRange).Where(r => r.SpeedOutsideShare is not null).ToList();
        var average = new Ewma(SpeedLambda);
        var posts = new List<Signpost>(runs.Count);
        foreach (var run in runs)
        {
            average.Add(run.SpeedOutsideShare!.Value);
            var leaving = SpeedDrift.Of(runs, posts.Count, state.Pump.Model);
            posts.Add(new Signpost(
                run.Start, Math.Max(average.Value / options.SpeedOutsideShare, leaving), run.SpeedOutsideShare > options.SpeedOutsideShare || leaving >= 1));
        }

        if (Open(posts) is not { } episode)
        {
            return null;
        }

        var model = state.Pump.Model;
        var speed = runs.Where(r => r.Start >= episode.Since && r.SpeedMeanRpm is not null).TakeLast(Window).Select(r => r.SpeedMeanRpm!.Value).ToList();
        return new FindingDraft(FindingKind.SpeedOutOfRange, episode.Since, speed.Count > 0 && speed.Average() > model.MaxSpeed.Rpm,
        [
            new Evidence("share of the time under load outside the speed range", average.Value, "1", 0, options.SpeedOutsideShare),
            .. speed.Count > 0
                ? [Speed(speed, average.Value >= options.SpeedOutsideShare, model)]
                : Array.Empty<Evidence>(),
        ])
        {
            Side = speed.Count == 0 ? FindingSide.Either
                : speed.Average() > SpeedDrift.NearEnd(model, high: true) ? FindingSide.High
                : speed.Average() < SpeedDrift.NearEnd(model, high: false) ? FindingSide.Low
                : FindingSide.Either,
        };
    }

    // A speed still inside its range, but about to leave it, is held against where the end begins.
    private static Evidence Speed(List<double> speed, bool isOutside, PumpModel model) => isOutside
        ? new Evidence($"mean speed of the last {speed.Count} runs", speed.Average(), "rpm", model.MinSpeed.Rpm, model.MaxSpeed.Rpm)
        : new Evidence(
            $"mean speed of the last {speed.Count} runs, moved towards the end of the range", speed.Average(), "rpm", SpeedDrift.NearEnd(model, high: false), SpeedDrift.NearEnd(model, high: true));

    private static Episode? Open(IReadOnlyList<Signpost> posts) => Episode.Latest(posts) is { ClosedAt: null } open ? open : null;

    private static ImmutableArray<Evidence> Highest(IEnumerable<Run> runs, string name, Func<Run, double?> of, string unit, double limit) =>
        runs.Max(of) is { } highest ? [new Evidence(name, highest, unit, null, limit)] : [];
}
