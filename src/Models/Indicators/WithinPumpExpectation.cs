using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.Distributions;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

//     runs of a pump model --> slopes from within each pump (robust) --> each pump's level from its own first hours
//              ^                                                                     |
//              |                                                      drawn towards, and held near, its peers' levels
//              |                                                                     v
//              +---- left out: runs that a moving average shows as shifted <---- judged runs --> bands

/// <summary>
/// Expectations of a pump model's indicator: slopes common to its pumps, and for each pump its own level.
/// </summary>
/// <remarks>
/// A faulty pump does not move the slopes (they come from differences within pumps, and its shifted runs are left out), nor its own expectation
/// (its level is read from its first hours and held within three spreads of its peers). A band holds the noise of a run, the error of the level and
/// that of the slopes; for a pump without enough hours of its own the level's error is the whole spread from pump to pump.
/// </remarks>
/// <param name="options">How.</param>
public sealed class WithinPumpExpectation(ExpectationOptions options) : IExpectationModel
{
    // Leaving shifted runs out changes the fit, which changes what is shifted; two rounds settle it.
    private const int ShiftRounds = 2;

    // A condition must be measured in half of the runs to be used.
    private const double LeastMeasuredShare = 0.5;

    /// <inheritdoc/>
    public ExpectationResult Learn(IndicatorDefinition definition, string pumpModel, IReadOnlyList<PumpHistory> pumps)
    {
        ArgumentNullException.ThrowIfNull(definition);
        ArgumentNullException.ThrowIfNull(pumpModel);
        ArgumentNullException.ThrowIfNull(pumps);
        var warnings = new List<string>();
        var observations = Observe(definition, pumps, warnings);
        var predictors = ChoosePredictors(definition, observations, warnings);
        Fill(predictors, observations);

        WithinPumpFit? fit = null;
        var judged = new Judging([], 0, []);
        for (var round = 0; round <= ShiftRounds; round++)
        {
            fit = FitSlopes(observations, ref predictors, warnings, definition);
            if (fit is not { Status: FitStatus.Converged, Scale: > 0 })
            {
                break;
            }

            judged = Judging.Of(fit, observations, pumps, judged.Rho, options);
            if (round < ShiftRounds)
            {
                MarkShifted(observations, judged, definition);
            }
        }

        Describe(observations, judged, pumps, warnings);
        return new ExpectationResult(
            Summarise(definition, pumpModel, fit, predictors, judged, warnings),
            [.. pumps.Select((pump, i) => ToJudgement(definition, pump, i, observations, judged, fit))]);
    }

    private List<IndicatorObservation> Observe(IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, List<string> warnings)
    {
        var observations = new List<IndicatorObservation>();
        int shortOnes = 0, thin = 0, missing = 0;
        for (var i = 0; i < pumps.Count; i++)
        {
            foreach (var run in pumps[i].Runs)
            {
                if (run.HoursH < options.ShortestRunH)
                {
                    shortOnes++;
                }
                else if (run.Quality.Coverage < options.LowestCoverage)
                {
                    thin++;
                }
                else if (Finite(definition.Seen(run)) is not { } seen)
                {
                    missing++;
                }
                else
                {
                    observations.Add(new IndicatorObservation(i, run, seen, definition.Weight(run), []));
                }
            }
        }

        if (shortOnes + thin + missing > 0)
        {
            warnings.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"{shortOnes + thin + missing} runs left out: {shortOnes} shorter than {options.ShortestRunH} h, {thin} with less than {options.LowestCoverage:P0} of their time covered, {missing} without {definition.Name}."));
        }

        return observations;
    }

    // A fit refuses NaN; a run that brings one counts as not measured.
    private static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static ImmutableArray<Predictor> ChoosePredictors(IndicatorDefinition definition, List<IndicatorObservation> observations, List<string> warnings)
    {
        var kept = ImmutableArray.CreateBuilder<Predictor>();
        foreach (var predictor in definition.Predictors)
        {
            var measured = observations.Count(o => Finite(predictor.Value(o.Run)) is not null);
            if (observations.Count == 0 || measured >= LeastMeasuredShare * observations.Count)
            {
                kept.Add(predictor);
                if (measured < observations.Count)
                {
                    warnings.Add($"{observations.Count - measured} runs without {predictor.Name} are taken at their pump's mean.");
                }
            }
            else
            {
                warnings.Add($"{predictor.Name} is not used: it is missing in {observations.Count - measured} of {observations.Count} runs.");
            }
        }

        return kept.ToImmutable();
    }

    // What a pump has no sensor for is taken at the other pumps' mean: at 0 the slope would carry it away from its peers.
    private static void Fill(ImmutableArray<Predictor> predictors, List<IndicatorObservation> observations)
    {
        var ofAll = predictors.Select(p => observations.Select(o => Finite(p.Value(o.Run))).Average() ?? 0).ToArray();
        foreach (var ofPump in observations.GroupBy(o => o.Pump))
        {
            var means = predictors.Select((p, j) => ofPump.Select(o => Finite(p.Value(o.Run))).Average() ?? ofAll[j]).ToArray();
            foreach (var o in ofPump)
            {
                o.Predictors = [.. predictors.Select((p, j) => Finite(p.Value(o.Run)) ?? means[j])];
            }
        }
    }

    private WithinPumpFit? FitSlopes(List<IndicatorObservation> observations, ref ImmutableArray<Predictor> predictors, List<string> warnings, IndicatorDefinition definition)
    {
        var used = observations.Where(o => !o.IsShifted).ToList();
        if (used.Count < options.FewestRuns)
        {
            return null;
        }

        while (true)
        {
            var fit = WithinPumpFit.Learn(used, [.. predictors.Select(p => $"{p.Name}, {definition.Unit} per {p.Unit}")]);
            if (fit.OffendingColumn is not { } column)
            {
                return fit;
            }

            warnings.Add($"{predictors[column].Name} is not used: it does not vary by itself inside any pump's runs.");
            predictors = predictors.RemoveAt(column);
            foreach (var o in observations)
            {
                o.Predictors = [.. o.Predictors.Where((_, j) => j != column)];
            }
        }
    }

    private void MarkShifted(List<IndicatorObservation> observations, Judging judging, IndicatorDefinition definition)
    {
        foreach (var ofPump in observations.GroupBy(o => o.Pump))
        {
            var known = ofPump.Where(judging.Runs.ContainsKey).ToList();
            var states = ShiftTracker.Track([.. known.Select(o => judging.Runs[o])], judging.Rho, definition.MattersFrom, options.Shift);
            for (var i = known.Count - 1; i >= 0; i--)
            {
                // A shift is only seen some runs after it began: a run also belongs to it when the next one does and it leans the same way.
                var strength = states[i].Strength;
                known[i].IsShifted = Math.Abs(strength) >= 1
                    || (i + 1 < known.Count && known[i + 1].IsShifted && states[i].RunShows != 0 && states[i].RunShows == Math.Sign(states[i + 1].Average));
            }
        }
    }

    private static void Describe(List<IndicatorObservation> observations, Judging judging, IReadOnlyList<PumpHistory> pumps, List<string> warnings)
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

    private FittedModel Summarise(
        IndicatorDefinition definition,
        string pumpModel,
        WithinPumpFit? fit,
        ImmutableArray<Predictor> predictors,
        Judging judging,
        List<string> warnings)
    {
        var converged = fit is { Status: FitStatus.Converged };
        if (!converged)
        {
            warnings.Add(fit?.Reason ?? $"Fewer than {options.FewestRuns} runs; wait for more.");
        }

        return new FittedModel
        {
            Name = definition.Indicator.ToString(),
            Scope = pumpModel,
            Method = predictors.IsEmpty
                ? "each pump's own level"
                : "weighted least squares within pumps, outliers and shifted runs left out, each pump's own level",
            Status = fit?.Status ?? FitStatus.Degenerate,
            Observations = fit?.Observations ?? 0,
            ResidualScale = converged ? fit!.Scale : null,
            RSquared = converged && double.IsFinite(fit!.RSquared) ? fit.RSquared : null,
            Coefficients =
            [
                .. fit?.Slopes ?? [],
                .. converged ? [new Coefficient("correlation of neighbouring runs, 1", judging.Rho, 1 / Math.Sqrt(fit!.Observations))] : Array.Empty<Coefficient>(),
            ],
            Warnings = [.. warnings],
        };
    }

    private PumpJudgement ToJudgement(
        IndicatorDefinition definition,
        PumpHistory pump,
        int index,
        List<IndicatorObservation> observations,
        Judging judging,
        WithinPumpFit? fit)
    {
        var quantile = fit is { Status: FitStatus.Converged } ? StudentT.InvCDF(0, 1, fit.DegreesOfFreedom, 0.5 + (options.Level / 2)) : 0;
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

        return new PumpJudgement { Pump = pump, Definition = definition, Points = points.ToImmutable(), Judged = runs.ToImmutable(), Rho = judging.Rho };
    }
}
