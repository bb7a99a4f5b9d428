using System.Collections.Immutable;
using System.Text.Json;
using Vanehour.Fleet.Register;
using Vanehour.Models.Findings;
using Vanehour.Models.Results;
using Vanehour.Models.Rounds;
using Vanehour.Store.Results;
using Vanehour.Store.Runs;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Analysis;

//     IFleetRegister --+
//                      +--> FleetData --> AnalysisCore --> AnalysisSnapshot --> IResultStore
//     IRunStore -------+    (lives,       |  oil use and temperature: FleetExpectation chooses and judges
//                            clocks)      |  vane wear: FleetWear
//     IFindingStore ---> FindingBook ---> |  findings: FindingAssessment (rules, knowledge.json), FindingContinuation; RoundRule
//            ^                                                      |
//            +-------------------- changed findings <---------------+

/// <summary>Brings the models, findings and wear of a fleet up to date. Runs must have been derived before.</summary>
/// <param name="register">Trucks, pump models, service records.</param>
/// <param name="runs">The runs.</param>
/// <param name="results">Where results go.</param>
/// <param name="findings">Where findings are kept.</param>
/// <param name="options">Settings.</param>
/// <param name="rounds">How rounds are counted; null for the defaults.</param>
public sealed class FleetAnalysis(
    IFleetRegister register, IRunStore runs, IResultStore results, IFindingStore findings, AnalysisOptions options, RoundOptions? rounds = null)
{
    private readonly AnalysisCore _core = new(options, rounds);
    private readonly FindingBook _book = new(findings);

    /// <summary>Analyses the fleet as of an instant and keeps the results.</summary>
    /// <remarks>
    /// An analysis as of an instant before the latest one is kept, but leaves the findings alone: they have moved on.
    /// </remarks>
    /// <param name="asOf">Nothing later is looked at.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellationToken">Stops between trucks and pump models; nothing is saved then.</param>
    public AnalysisSnapshot Analyse(DateTimeOffset asOf, IProgress<AnalysisProgress>? progress, CancellationToken cancellationToken) =>
        Analyse(asOf, feeds: null, forwarding: null, progress, cancellationToken);

    /// <inheritdoc cref="Analyse(DateTimeOffset, IProgress{AnalysisProgress}?, CancellationToken)"/>
    /// <param name="asOf">Nothing later is looked at.</param>
    /// <param name="feeds">What is known of the trucks' feeds; null where that is not known, and then not judged.</param>
    /// <param name="forwarding">What waits to be forwarded to a server; null where that is not known, and then not judged.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellationToken">Stops between trucks and pump models; nothing is saved then.</param>
    public AnalysisSnapshot Analyse(
        DateTimeOffset asOf,
        IReadOnlyDictionary<string, FeedSigns>? feeds,
        ForwardingBacklog? forwarding,
        IProgress<AnalysisProgress>? progress,
        CancellationToken cancellationToken)
    {
        var data = FleetData.Read(register, runs, asOf, cancellationToken) with
        {
            Forwarding = forwarding,

            // What was heard after the instant of the analysis says nothing of how it was then.
            Feeds = (feeds ?? ImmutableDictionary<string, FeedSigns>.Empty)
                .Where(f => !(f.Value.LastHeard > asOf))
                .ToImmutableDictionary(f => f.Key, f => f.Value, StringComparer.Ordinal),
        };
        var isLatest = results.LatestAsOf() is not { } latest || asOf >= latest;
        var before = isLatest ? _book.All() : [];
        var outcome = _core.Run(data, before, progress, cancellationToken);
        cancellationToken.ThrowIfCancellationRequested();

        // Findings first: were the second save to fail, the next analysis would carry them on under the same ids.
        if (isLatest)
        {
            _book.SaveUnlessMarked(outcome.ChangedFindings, before);
        }

        results.Save(asOf, Documents(outcome.Snapshot, data), options.KeepAnalyses);
        return outcome.Snapshot;
    }

    private ImmutableArray<ResultDocument> Documents(AnalysisSnapshot snapshot, FleetData data)
    {
        var header = new AnalysisHeader
        {
            AsOf = snapshot.AsOf,
            Seed = options.Seed,
            Pumps = data.Pumps.Length,
            Runs = data.Pumps.Sum(p => p.Runs.Count),
            Remarks = data.Remarks,
        };
        return
        [
            new ResultDocument(ResultKind.Header, string.Empty, JsonSerializer.Serialize(header, ModelsJson.Default.AnalysisHeader)),
            .. snapshot.Models.Select(m => new ResultDocument(ResultKind.Model, ResultKind.KeyOf(m), JsonSerializer.Serialize(m, ModelsJson.Default.FittedModel))),
            .. snapshot.Choices.Select(c => new ResultDocument(ResultKind.Choice, c.Indicator.ToString(), JsonSerializer.Serialize(c, ModelsJson.Default.ModelChoice))),
            .. snapshot.Series.Select(s => new ResultDocument(ResultKind.Series, $"{s.Truck}/{s.Indicator}", JsonSerializer.Serialize(s, ModelsJson.Default.IndicatorSeries))),
            .. snapshot.Wear.Select(w => new ResultDocument(ResultKind.Wear, w.Truck, JsonSerializer.Serialize(w, ModelsJson.Default.WearForecast))),
        ];
    }
}
