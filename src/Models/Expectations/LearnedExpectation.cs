using System.Collections.Immutable;
using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>
/// Judges every pump of a fleet by a candidate learned over all pump models, each pump at its own level: as <see cref="WithinPumpExpectation"/>, with
/// the slopes replaced. Groups of trucks are left out in turn; a pump is judged by the model that left its truck out.
/// </summary>
internal sealed class LearnedExpectation(CandidateKind kind, ExpectationOptions expectation, ChoiceOptions options, int seed)
{
    // Runs that show a lasting shift are left out, then it is learned once more.
    private const int ShiftRounds = 1;

    /// <summary>The results by pump model, each with its pumps in the order given; null where a group of trucks leaves nothing to learn from.</summary>
    public Dictionary<string, ExpectationResult>? Learn(
        IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, CancellationToken cancellationToken)
    {
        var fleet = FleetRows.Of(definition, pumps, expectation);
        fleet.FillByPump();
        var groups = Folds.Groups(fleet, options.Folds);
        var byModel = fleet.Observations.GroupBy(o => fleet.ModelOf[o.Pump]).ToDictionary(g => g.Key, g => g.ToList());
        var judged = new Dictionary<int, (LearnedConditionFit Fit, Judging Judging)>();
        for (var round = 0; round <= ShiftRounds; round++)
        {
            var populations = new List<IPopulation>();
            for (var group = 0; group < options.Folds; group++)
            {
                cancellationToken.ThrowIfCancellationRequested();
                var training = fleet.Observations.Where(o => !o.IsShifted && groups[fleet.TruckOf(o)] != group).ToList();
                var set = TrainingSet.Of(fleet, Folds.Evenly(training, options.MostTrainingRuns));
                if (set.Rows.Count < expectation.FewestRuns)
                {
                    return null;
                }

                populations.Add(Populations.Learn(kind, set, seed));
            }

            foreach (var (model, observations) in byModel)
            {
                var fit = new LearnedConditionFit(fleet, populations, groups, observations);
                var judging = observations.Count >= expectation.FewestRuns && fit.Scale > 0
                    ? Judging.Of(fit, observations, pumps, judged.TryGetValue(model, out var before) ? before.Judging.Rho : 0, expectation)
                    : Judging.Nothing;
                judged[model] = (fit, judging);
                if (round < ShiftRounds)
                {
                    JudgementWriter.MarkShifted(observations, judging, definition, expectation.Shift);
                }
            }
        }

        return Enumerable.Range(0, fleet.PumpModels.Length).ToDictionary(
            m => fleet.PumpModels[m],
            m => Write(definition, fleet, m, byModel.GetValueOrDefault(m) ?? [], judged.TryGetValue(m, out var j) ? j : null),
            StringComparer.Ordinal);
    }

    private ExpectationResult Write(
        IndicatorDefinition definition,
        FleetRows fleet,
        int model,
        List<IndicatorObservation> observations,
        (LearnedConditionFit Fit, Judging Judging)? judged)
    {
        var warnings = new List<string>();
        int[] indices = [.. Enumerable.Range(0, fleet.Pumps.Count).Where(i => fleet.ModelOf[i] == model)];
        Observing.Observe(definition, [.. indices.Select(i => fleet.Pumps[i])], expectation, warnings);
        var judging = judged?.Judging ?? Judging.Nothing;
        var converged = judging.Runs.Count > 0;
        JudgementWriter.Describe(observations, judging, fleet.Pumps, warnings);
        if (!converged)
        {
            warnings.Add($"Fewer than {expectation.FewestRuns} runs; wait for more.");
        }

        return new ExpectationResult(
            new FittedModel
            {
                Name = definition.Indicator.ToString(),
                Scope = fleet.PumpModels[model],
                Method = $"{kind} over all pump models from the other trucks, shifted runs and outliers left out, each pump's own level",
                Status = converged ? FitStatus.Converged : FitStatus.Degenerate,
                Observations = judged?.Fit.Observations ?? 0,
                ResidualScale = converged ? judged!.Value.Fit.Scale : null,
                RSquared = converged ? judged!.Value.Fit.RSquared : null,
                Coefficients = converged
                    ? [new Coefficient("correlation of neighbouring runs, 1", judging.Rho, 1 / Math.Sqrt(judged!.Value.Fit.Observations))]
                    : [],
                Warnings = [.. warnings],
            },
            [.. indices.Select(i => JudgementWriter.Write(definition, fleet.Pumps[i], i, observations, judging, converged ? judged!.Value.Fit : null, expectation.Level))]);
    }
}
