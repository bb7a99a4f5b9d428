using System.Collections.Immutable;
using Vanehour.Models.Expectations;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.Regression;
using Vanehour.Models.Results;
using Vanehour.Models.Rounds;
using Vanehour.Models.TemperatureRise;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Analysis;

/// <summary>Runs, register and earlier findings in, results out: a pure function, the same for the same options.</summary>
public sealed class AnalysisCore
{
    /// <summary>The kinds of finding that this analysis judges; others in the store are left alone.</summary>
    public static readonly ImmutableHashSet<FindingKind> JudgedKinds =
    [
        FindingKind.OilUseHigh, FindingKind.OilUseLow, FindingKind.RunningHot, FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.VanesNearLimit,
        FindingKind.ReliefSettingMoved, FindingKind.HeldAboveVacuumLimit, FindingKind.PressureAboveLimit, FindingKind.SpeedOutOfRange,
        FindingKind.CarryOver, FindingKind.SensorStuck, FindingKind.MeterJumped,
    ];

    private readonly AnalysisOptions _options;
    private readonly FleetExpectation _expectation;
    private readonly IWearModel _wear;
    private readonly FindingAssessment _assessment;
    private readonly ForwardingRule _forwarding;
    private readonly RoundRule _rounds;
    private readonly ImmutableArray<IndicatorDefinition> _indicators;

    /// <summary>Makes an analysis with the models that there are.</summary>
    /// <param name="options">Settings.</param>
    /// <param name="rounds">How rounds are counted; null for the defaults.</param>
    /// <exception cref="ArgumentException">The options are not sound; the message says what.</exception>
    public AnalysisCore(AnalysisOptions options, RoundOptions? rounds = null)
        : this(
            options,
            new WithinPumpExpectation((options ?? throw new ArgumentNullException(nameof(options))).Expectation),
            new FleetWear(options.Wear),
            new FindingAssessment(FindingAssessment.Rules(options.Findings, options.Expectation.Shift), Knowledge.Default),
            rounds)
    {
    }

    /// <summary>Makes an analysis of given models; <paramref name="expectation"/> is what candidates are compared with.</summary>
    /// <exception cref="ArgumentException">The options are not sound; the message says what.</exception>
    public AnalysisCore(AnalysisOptions options, IExpectationModel expectation, IWearModel wear, FindingAssessment assessment, RoundOptions? rounds = null)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Problems().Concat(rounds?.Problems() ?? []).ToList() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(options));
        }

        _options = options;
        _expectation = new FleetExpectation(expectation, options.Expectation, options.Choice, options.Seed);
        _wear = wear;
        _assessment = assessment;
        _forwarding = new ForwardingRule(options.Findings, Knowledge.Default);
        _rounds = new RoundRule(rounds ?? new RoundOptions(), Knowledge.Default);
        _indicators = [OilUseIndicator.Define(options.Expectation.Shift), TemperatureRiseIndicator.Define(options.Expectation.Shift), TemperatureHuntingIndicator.Define(options.Expectation.Shift)];
    }

    /// <summary>Analyses a fleet.</summary>
    /// <param name="data">The fleet.</param>
    /// <param name="findingsBefore">Every finding kept so far.</param>
    /// <param name="progress">Told of each step.</param>
    /// <param name="cancellationToken">Stops between pump models and pumps.</param>
    public AnalysisOutcome Run(
        FleetData data, IReadOnlyList<Finding> findingsBefore, IProgress<AnalysisProgress>? progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(findingsBefore);
        return Judge(Fit(data, progress, cancellationToken), findingsBefore);
    }

    /// <summary>Everything of an analysis that needs no earlier findings; the costly part.</summary>
    /// <param name="data">The fleet.</param>
    /// <param name="progress">Told of each step.</param>
    /// <param name="cancellationToken">Stops between pump models and pumps.</param>
    public AnalysisFits Fit(FleetData data, IProgress<AnalysisProgress>? progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(data);
        var steps = (data.Pumps.Select(p => p.Model.Model).Distinct(StringComparer.Ordinal).Count() * _indicators.Length) + 2;
        var done = 0;

        var fits = ImmutableArray.CreateBuilder<FittedModel>();
        var choices = ImmutableArray.CreateBuilder<ModelChoice>();
        var judgements = new List<PumpJudgement>();
        foreach (var indicator in data.Pumps.IsEmpty ? [] : _indicators)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var learned = _expectation.Learn(
                indicator, data.Pumps, model => progress?.Report(new AnalysisProgress($"{indicator.Name} of {model}", done++, steps)), cancellationToken);
            choices.Add(learned.Choice);
            fits.AddRange(learned.Models.Select(m => m.Model));
            judgements.AddRange(learned.Models.SelectMany(m => m.Pumps));
        }

        progress?.Report(new AnalysisProgress("vane wear", done++, steps));
        var wear = _wear.Forecast(data, _options.Seed, cancellationToken);
        fits.AddRange(wear.Select(w => w.Fit).OfType<FittedModel>());

        progress?.Report(new AnalysisProgress("findings", done, steps));
        return new AnalysisFits(data, [.. fits.OrderBy(ResultKind.KeyOf, StringComparer.Ordinal)], choices.ToImmutable(), [.. judgements], [.. wear.Select(w => w.Forecast)]);
    }

    /// <summary>The findings of a fleet by what was fitted to it.</summary>
    /// <param name="fitted">What <see cref="Fit"/> gave.</param>
    /// <param name="findingsBefore">Every finding kept so far.</param>
    public AnalysisOutcome Judge(AnalysisFits fitted, IReadOnlyList<Finding> findingsBefore)
    {
        ArgumentNullException.ThrowIfNull(fitted);
        ArgumentNullException.ThrowIfNull(findingsBefore);
        var data = fitted.Data;
        var now = data.Pumps.Where(p => p.IsCurrent).SelectMany(p => Assess(p, fitted, findingsBefore)).ToList();
        var judged = JudgedKinds.Add(FindingKind.RoundOverdue);
        now.AddRange(data.Pumps.GroupBy(p => p.Truck.Id, StringComparer.Ordinal).SelectMany(g => Rounds([.. g], data.AsOf, findingsBefore)));
        if (!data.Feeds.IsEmpty)
        {
            judged = judged.Union([FindingKind.FeedSilent, FindingKind.ClockWrong]);
        }

        if (data.Forwarding is { } backlog)
        {
            judged = judged.Add(FindingKind.ForwardingBehind);
            now.AddRange(_forwarding.Look(backlog, data.AsOf, findingsBefore));
        }

        var findings = FindingContinuation.Continue(findingsBefore, now, judged, data.AsOf, [.. data.Pumps.Select(p => p.Life).Where(l => l.EndedAt is not null)]);
        var untouched = findingsBefore.Where(b => findings.All(f => f.Id != b.Id));
        return new AnalysisOutcome(
            new AnalysisSnapshot
            {
                AsOf = data.AsOf,
                Models = fitted.Models,
                Choices = fitted.Choices,
                Series = Series(fitted.Judgements),
                Wear = fitted.Wear,
                Findings = [.. FindingBook.Order(findings.Concat(untouched))],
            },
            findings);
    }

    private ImmutableArray<Finding> Assess(PumpHistory pump, AnalysisFits fitted, IReadOnlyList<Finding> before)
    {
        var own = before.Where(f => f.Truck == pump.Truck.Id && f.PumpSerial == pump.Life.PumpSerial).ToList();
        return _assessment.Assess(new PumpState
        {
            Pump = pump,
            Feed = fitted.Data.Feeds.GetValueOrDefault(pump.Truck.Id),
            Judgements = [.. fitted.Judgements.Where(j => ReferenceEquals(j.Pump, pump))],
            Wear = fitted.Wear.First(f => f.Truck == pump.Truck.Id),
            PeerWear = [.. fitted.Wear.Where(f => f.PumpModel == pump.Model.Model && f.Truck != pump.Truck.Id)],
            OpenBefore = [.. own.Where(f => f.Status != FindingStatus.Closed).Select(f => f.Kind)],
            Watched = own.Where(f => f.Status != FindingStatus.Closed && f.Watched is not null).GroupBy(f => f.Kind).ToImmutableDictionary(g => g.Key, g => g.Last()),
            DealtWith = own.Where(f => f is { HasVerdict: true, Closed: not null })
                .GroupBy(f => f.Kind)
                .ToImmutableDictionary(g => g.Key, g => g.Max(f => f.Closed!.Value)),
        });
    }

    private IEnumerable<Finding> Rounds(ImmutableArray<PumpHistory> lives, DateTimeOffset asOf, IReadOnlyList<Finding> before)
    {
        var last = lives[^1];
        return _rounds.Look(last.Truck, last.Records, lives.SelectMany(l => l.Runs), asOf, before);
    }

    private ImmutableArray<IndicatorSeries> Series(ImmutableArray<PumpJudgement> judgements) =>
    [
        .. judgements
            .Where(j => !j.Points.IsEmpty)
            .GroupBy(j => (j.Pump.Truck.Id, j.Definition.Indicator))
            .OrderBy(g => g.Key.Id, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Indicator)
            .Select(g => new IndicatorSeries
            {
                Truck = g.Key.Id,
                Indicator = g.Key.Indicator,
                Level = _options.Expectation.Level,
                Lenses = g.LastOrDefault(j => j.Lenses is not null)?.Lenses,
                Points = [.. g.SelectMany(j => j.Points).OrderBy(p => p.At)],
            }),
    ];
}
