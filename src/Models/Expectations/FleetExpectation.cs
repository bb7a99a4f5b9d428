using System.Collections.Immutable;
using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

//     all runs of the fleet --> Folds --> CrossValidation --> Comparison --> chosen candidate
//            |                  (trucks,   (every candidate,   (one standard     |
//            |                   time)      held-out runs)      error)           v
//            +--> least squares or mean: IExpectationModel, by pump model   LearnedExpectation :Sdca, FastTree
//                                        \                                  /
//                                         +--> ConformalBands (held-out runs of the chosen) --> judgements

/// <summary>Chooses by what an indicator of a fleet is judged, judges every pump by it and sets the bands.</summary>
/// <param name="leastSquares">Judges a pump model by least squares within pumps; without predictors, by each pump's own level alone.</param>
/// <param name="expectation">How expectations are learned.</param>
/// <param name="options">How candidates are compared.</param>
/// <param name="seed">Of what learns with chance.</param>
public sealed class FleetExpectation(IExpectationModel leastSquares, ExpectationOptions expectation, ChoiceOptions options, ulong seed)
{
    private readonly int _seed = (int)(seed % int.MaxValue);
    private readonly double _inControlRuns = expectation.Shift.InControlRuns();

    /// <summary>Chooses and judges. A pure function of its arguments.</summary>
    /// <param name="definition">The indicator.</param>
    /// <param name="pumps">Every life of every pump model, past and running.</param>
    /// <param name="starting">Told of each pump model before it is judged; may be null.</param>
    /// <param name="cancellationToken">Stops between folds and pump models.</param>
    public FleetExpectationResult Learn(
        IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, Action<string>? starting, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(definition);
        ArgumentNullException.ThrowIfNull(pumps);
        var byModel = pumps.GroupBy(p => p.Model.Model, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).ToList();
        var (comparison, status, held) = Compare(definition, pumps, cancellationToken);
        var chosen = comparison?.Chosen ?? (status == ChoiceStatus.Taken ? options.Taken[definition.Indicator] : CandidateKind.LeastSquares);
        var learned = chosen > CandidateKind.LeastSquares ? new LearnedExpectation(chosen, expectation, options, _seed).Learn(definition, pumps, cancellationToken) : null;
        var reason = comparison?.Reason ?? Without(status);
        if (learned is null && chosen > CandidateKind.LeastSquares)
        {
            reason += " Without one group of trucks there are too few runs to learn it from: least squares after all.";
            chosen = CandidateKind.LeastSquares;
        }

        var results = ImmutableArray.CreateBuilder<ExpectationResult>();
        var bands = ImmutableArray.CreateBuilder<BandCoverage>();
        var heldByModel = (held?[chosen] ?? []).ToLookup(h => pumps[h.Observation.Pump].Model.Model, StringComparer.Ordinal);
        foreach (var ofModel in byModel)
        {
            cancellationToken.ThrowIfCancellationRequested();
            starting?.Invoke(ofModel.Key);
            var result = learned?[ofModel.Key]
                ?? leastSquares.Learn(chosen == CandidateKind.PumpModelMean ? definition with { Predictors = [] } : definition, ofModel.Key, [.. ofModel]);
            var (banded, band) = ConformalBands.Set(result, ofModel.Key, [.. heldByModel[ofModel.Key]], expectation, options);
            results.Add(banded);
            bands.Add(band);
        }

        return new FleetExpectationResult(results.ToImmutable(), new ModelChoice
        {
            Indicator = definition.Indicator,
            Unit = definition.Unit,
            Status = status,
            Chosen = chosen,
            Reason = reason,
            Trucks = comparison?.Trucks ?? 0,
            Runs = comparison?.Runs ?? 0,
            Scores = comparison?.Scores ?? [],
            Bands = bands.ToImmutable(),
            InControlRuns = _inControlRuns,
        });
    }

    private (Comparison? Comparison, ChoiceStatus Status, Dictionary<CandidateKind, List<HeldOutRun>>? Held) Compare(
        IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, CancellationToken cancellationToken)
    {
        if (!options.Enabled)
        {
            return (null, ChoiceStatus.SwitchedOff, null);
        }

        if (options.Taken.ContainsKey(definition.Indicator))
        {
            return (null, ChoiceStatus.Taken, null);
        }

        var fleet = FleetRows.Of(definition, pumps, expectation);
        if (fleet.Observations.Select(fleet.TruckOf).Distinct(StringComparer.Ordinal).Count() < options.FewestTrucks)
        {
            return (null, ChoiceStatus.TooFewTrucks, null);
        }

        if (fleet.Observations.Count < options.FewestRuns)
        {
            return (null, ChoiceStatus.TooFewRuns, null);
        }

        var held = CrossValidation.Run(fleet, Folds.Make(fleet, expectation, options), _seed, cancellationToken);
        return Comparison.Of(fleet, held, options) is { } comparison ? (comparison, ChoiceStatus.Compared, held) : (null, ChoiceStatus.TooFewTrucks, null);
    }

    private string Without(ChoiceStatus status) => status switch
    {
        ChoiceStatus.Taken => "As an earlier comparison chose.",
        ChoiceStatus.SwitchedOff => "The comparison is switched off; least squares.",
        ChoiceStatus.TooFewTrucks => $"Fewer than {options.FewestTrucks} trucks with runs enough to compare candidates on; least squares.",
        _ => $"Fewer than {options.FewestRuns} runs to compare candidates on; least squares.",
    };
}
