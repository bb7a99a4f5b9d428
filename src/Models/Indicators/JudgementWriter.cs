using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.Indicators;

/// <summary>Turns judged observations into what is kept of each pump, whatever the expectation was learned by.</summary>
internal static class JudgementWriter
{
    /// <summary>Marks the runs that belong to a lasting shift, which the next fit leaves out.</summary>
    public static void MarkShifted(List<IndicatorObservation> observations, Judging judging, IndicatorDefinition definition, ShiftOptions shift)
    {
        foreach (var ofPump in observations.GroupBy(o => o.Pump))
        {
            var known = ofPump.Where(judging.Runs.ContainsKey).ToList();
            var states = ShiftTracker.Track([.. known.Select(o => judging.Runs[o])], judging.Rho, definition.MattersFrom, shift);
            foreach (var (observation, isShifted) in known.Zip(ShiftTracker.Lasting(states)))
            {
                observation.IsShifted = isShifted;
            }
        }
    }

    /// <summary>Says which pumps show a shift, are held to their peers or are too young to judge.</summary>
    public static void Describe(List<IndicatorObservation> observations, Judging judging, IReadOnlyList<PumpHistory> pumps, List<string> warnings)
    {
        foreach (var shifted in observations.Where(o => o.IsShifted).GroupBy(o => o.Pump))
        {
            warnings.Add($"{shifted.Count()} runs of {pumps[shifted.Key].Name} show a lasting shift and were left out of the fit.");
        }

        warnings.AddRange(judging.HeldToPeers);
        foreach (var ofPump in observations.GroupBy(o => o.Pump).Where(g => !g.Any(judging.Runs.ContainsKey)))
        {
            warnings.Add($"{pumps[ofPump.Key].Name} is too young to judge.");
        }
    }

    /// <summary>One pump's runs beside their expectation and the t interval about it.</summary>
    public static PumpJudgement Write(
        IndicatorDefinition definition, PumpHistory pump, int index, List<IndicatorObservation> observations, Judging judging, IConditionFit? fit, double level)
    {
        var quantile = fit is { DegreesOfFreedom: > 0 } ? StudentT.InvCDF(0, 1, fit.DegreesOfFreedom, 0.5 + (level / 2)) : 0;
        var points = ImmutableArray.CreateBuilder<IndicatorPoint>();
        var runs = ImmutableArray.CreateBuilder<JudgedRun>();
        foreach (var o in observations.Where(o => o.Pump == index))
        {
            var run = judging.Runs.GetValueOrDefault(o);
            double? half = run is null ? null : quantile * Math.Sqrt((run.NoiseSd * run.NoiseSd) + (run.OffsetSd * run.OffsetSd));
            points.Add(new IndicatorPoint(
                o.Run.End, pump.Clock.HoursAt(o.Run.End), o.Run.HoursH, o.Seen, run?.Expected - half, run?.Expected, run?.Expected + half));
            if (run is not null)
            {
                runs.Add(run);
            }
        }

        return new PumpJudgement
        {
            Pump = pump,
            Definition = definition,
            Points = points.ToImmutable(),
            Judged = runs.ToImmutable(),
            Rho = judging.Rho,
            Lenses = judging.Gaps.GetValueOrDefault(index)?.Look(runs, judging.Rho),
        };
    }
}
