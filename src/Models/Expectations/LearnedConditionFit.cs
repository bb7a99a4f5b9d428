using System.Collections.Immutable;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>
/// A learned population model as judging needs it. Each pump is judged by a model that did not see its truck, so that a pump does not move its own
/// expectation and its residuals are those of a prediction. The error of what conditions do is the jackknife's over the groups of trucks left out.
/// </summary>
internal sealed class LearnedConditionFit : IConditionFit
{
    private const double OutlierSd = 4;
    private const double SharedNoiseRuns = 5;

    private readonly FleetRows _fleet;
    private readonly IReadOnlyList<IPopulation> _populations;
    private readonly Dictionary<string, int> _groups;
    private readonly Dictionary<int, double> _scales = [];

    public LearnedConditionFit(
        FleetRows fleet, IReadOnlyList<IPopulation> populations, Dictionary<string, int> groups, IReadOnlyList<IndicatorObservation> observations)
    {
        _fleet = fleet;
        _populations = populations;
        _groups = groups;
        double squares = 0, total = 0;
        var pumps = observations.Where(o => !o.IsShifted).GroupBy(o => o.Pump).Select(g =>
        {
            var left = g.Select(o => (o.Seen, Left: o.Seen - Population(o.Pump).Predict(_fleet.ModelOf[o.Pump], o.Predictors), o.Weight)).ToList();
            var median = Robust.WeightedMedian(left.Select(r => (r.Left, r.Weight)));
            var spread = Robust.SpreadAboutZero(left.Select(r => Math.Sqrt(r.Weight) * (r.Left - median)));
            var kept = left.Where(r => Math.Sqrt(r.Weight) * Math.Abs(r.Left - median) <= OutlierSd * spread).ToList();
            var weight = kept.Sum(r => r.Weight);
            var mean = kept.Sum(r => r.Weight * r.Left) / weight;
            var seen = kept.Sum(r => r.Weight * r.Seen) / weight;
            total += kept.Sum(r => r.Weight * (r.Seen - seen) * (r.Seen - seen));
            return (Pump: g.Key, n: kept.Count, Squares: kept.Sum(r => r.Weight * (r.Left - mean) * (r.Left - mean)));
        }).ToList();
        Observations = pumps.Sum(p => p.n);
        squares = pumps.Sum(p => p.Squares);
        DegreesOfFreedom = Math.Max(Observations - pumps.Count, 0);
        Scale = DegreesOfFreedom > 0 ? Math.Sqrt(squares / DegreesOfFreedom) : 0;
        RSquared = total > 0 ? 1 - (squares / total) : null;
        foreach (var (pump, n, own) in pumps)
        {
            _scales[pump] = Math.Sqrt((own + (SharedNoiseRuns * Scale * Scale)) / (n - 1 + SharedNoiseRuns));
        }
    }

    /// <summary>Standard deviation of a run of weight 1 over all pumps.</summary>
    public double Scale { get; }

    /// <summary>Share of what varies inside pumps that is explained, for trucks not seen; null where nothing varies.</summary>
    public double? RSquared { get; }

    public int Observations { get; }

    /// <inheritdoc/>
    public int Width => _fleet.Predictors.Length;

    /// <inheritdoc/>
    public int DegreesOfFreedom { get; }

    /// <inheritdoc/>
    public double ScaleOf(int pump) => _scales.GetValueOrDefault(pump, Scale);

    /// <inheritdoc/>
    public double Explained(int pump, double[] x, double[] from) => Difference(Population(pump), pump, x, from);

    /// <inheritdoc/>
    public double ExplainedVariance(int pump, double[] x, double[] from)
    {
        var differences = _populations.Select(p => Difference(p, pump, x, from)).ToImmutableArray();
        var mean = differences.Average();
        return (differences.Length - 1.0) / differences.Length * differences.Sum(d => (d - mean) * (d - mean));
    }

    private IPopulation Population(int pump) => _populations[_groups[_fleet.Pumps[pump].Truck.Id]];

    private double Difference(IPopulation population, int pump, double[] x, double[] from) =>
        population.Predict(_fleet.ModelOf[pump], x) - population.Predict(_fleet.ModelOf[pump], from);
}
