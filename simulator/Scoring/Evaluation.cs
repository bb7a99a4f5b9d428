using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.VaneWear;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>Replays a fleet and scores its findings and forecasts against the truth, with fixed thresholds beside them.</summary>
public static class Evaluation
{
    /// <summary>Evaluates.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="truthFile">The file that says what is true of it.</param>
    /// <param name="options">Settings of the analysis.</param>
    /// <param name="every">How far apart analyses lie.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancellationToken">Stops between analyses.</param>
    /// <exception cref="EvaluationException">The truth file is not one (the message names the line), the fleet has no runs, or none of the truth is about its trucks.</exception>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static EvaluationResult Run(
        ReplayFleet fleet, string truthFile, AnalysisOptions options, TimeSpan every, IProgress<double>? progress, CancellationToken cancellationToken) =>
        Run(fleet, TruthReader.Read(truthFile), options, every, progress, cancellationToken);

    /// <summary>Evaluates.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="truth">What is true of it.</param>
    /// <param name="options">Settings of the analysis.</param>
    /// <param name="every">How far apart analyses lie.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancellationToken">Stops between analyses.</param>
    /// <exception cref="EvaluationException">The fleet has no runs, or none of the truth is about its trucks; the message is for a person.</exception>
    public static EvaluationResult Run(
        ReplayFleet fleet, FleetTruth truth, AnalysisOptions options, TimeSpan every, IProgress<double>? progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(options);
        if (fleet.First is not { } first || fleet.Last is not { } last)
        {
            throw new EvaluationException("There are no runs to score; run 'vanehour analyse' first.");
        }

        if (!truth.Lives.Select(l => l.Truck).Concat(truth.Faults.Select(f => f.Truck)).Any(t => fleet.Trucks.Any(truck => truck.Id == t)))
        {
            throw new EvaluationException("The truth is about other trucks than the data.");
        }

        var core = new AnalysisCore(options);
        var thresholds = new AnalysisCore(
            options, new WithinPumpExpectation(options.Expectation), new FleetWear(options.Wear), new FindingAssessment([new FixedThresholdRule()], Knowledge.Default));
        var replays = new FindingReplay(options, [core, thresholds]).Run(fleet, first + every, last, every, progress, cancellationToken);
        var limits = fleet.FlowKeptLimits;
        return new EvaluationResult
        {
            From = replays[0].From,
            To = replays[0].To,
            Every = every,
            Trucks = fleet.Trucks.Count,
            TruckYears = replays[0].TruckYears,
            Findings = FindingScorer.Score(truth, replays[0], limits),
            Thresholds = FindingScorer.Score(truth, replays[1], limits),
            Drift = DriftScorer.Score(truth, replays[0], fleet),
            Forecasts = ForecastScorer.Score(truth, replays[0]),
        };
    }
}
