using System.Collections.Immutable;
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
        var observations = Observing.Observe(definition, pumps, options, warnings);
        var predictors = ChoosePredictors(definition, observations, warnings);
        Fill(predictors, observations);

        WithinPumpFit? fit = null;
        var judged = Judging.Nothing;
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
                JudgementWriter.MarkShifted(observations, judged, definition, options.Shift);
            }
        }

        JudgementWriter.Describe(observations, judged, pumps, warnings);
        return new ExpectationResult(
            Summarise(definition, pumpModel, fit, predictors, judged, warnings),
            [.. pumps.Select((pump, i) => JudgementWriter.Write(definition, pump, i, observations, judged, fit, options.Level))]);
    }

    private static ImmutableArray<Predictor> ChoosePredictors(IndicatorDefinition definition, List<IndicatorObservation> observations, List<string> warnings)
    {
        var kept = ImmutableArray.CreateBuilder<Predictor>();
        foreach (var predictor in definition.Predictors)
        {
            var measured = observations.Count(o => Observing.Finite(predictor.Value(o.Run)) is not null);
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
        var ofAll = predictors.Select(p => observations.Select(o => Observing.Finite(p.Value(o.Run))).Average() ?? 0).ToArray();
        foreach (var ofPump in observations.GroupBy(o => o.Pump))
        {
            var means = predictors.Select((p, j) => ofPump.Select(o => Observing.Finite(p.Value(o.Run))).Average() ?? ofAll[j]).ToArray();
            foreach (var o in ofPump)
            {
                o.Predictors = [.. predictors.Select((p, j) => Observing.Finite(p.Value(o.Run)) ?? means[j])];
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
}
