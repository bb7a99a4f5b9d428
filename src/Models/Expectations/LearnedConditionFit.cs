using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>
/// A learned population model as judging needs it. Each pump is judged by a model that did not see its truck, so that a pump does not move its own
/// expectation and its residuals are those of a prediction. The error of what conditions do is the jackknife's over the groups of trucks left out.
/// </summary>
internal sealed class LearnedConditionFit : IConditionFit
{
    private readonly FleetRows _fleet;
    private readonly IReadOnlyList<IPopulation> _populations;
    private readonly Dictionary<string, int> _groups;
    private readonly Dictionary<int, double> _scales = [];

    // A run is asked for several times, the conditions of a pump's level thousands of times.
    private readonly Dictionary<double[], double[]> _predicted = new(ReferenceEqualityComparer.Instance);

    public LearnedConditionFit(
        FleetRows fleet, IReadOnlyList<IPopulation> populations, Dictionary<string, int> groups, IReadOnlyList<IndicatorObservation> observations)
    {
        _fleet = fleet;
        _populations = populations;
        _groups = groups;
        var total = 0.0;
        var pumps = observations.Where(o => !o.IsShifted).GroupBy(o => o.Pump).Select(g =>
        {
            var runs = g.ToList();
            var noise = PumpNoise.Of([.. runs.Select(o => (o.Seen - Predicted(o.Pump, o.Predictors)[Group(o.Pump)], o.Weight))]);
            var kept = noise.Kept.Select(i => runs[i]).ToList();
            var seen = kept.Sum(o => o.Weight * o.Seen) / kept.Sum(o => o.Weight);
            total += kept.Sum(o => o.Weight * (o.Seen - seen) * (o.Seen - seen));
            return (Pump: g.Key, Noise: noise);
        }).ToList();
        Observations = pumps.Sum(p => p.Noise.Kept.Count);
        var squares = pumps.Sum(p => p.Noise.Squares);
        DegreesOfFreedom = Math.Max(Observations - pumps.Count, 0);
        Scale = DegreesOfFreedom > 0 ? Math.Sqrt(squares / DegreesOfFreedom) : 0;
        RSquared = total > 0 ? 1 - (squares / total) : null;
        foreach (var (pump, noise) in pumps)
        {
            _scales[pump] = Math.Sqrt(noise.Variance(Scale * Scale));
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
    public double Explained(int pump, double[] x, double[] from) => Predicted(pump, x)[Group(pump)] - Predicted(pump, from)[Group(pump)];

    /// <inheritdoc/>
    public double ExplainedVariance(int pump, double[] x, double[] from)
    {
        double[] differences = [.. Predicted(pump, x).Zip(Predicted(pump, from), (to, start) => to - start)];
        var mean = differences.Average();
        return (differences.Length - 1.0) / differences.Length * differences.Sum(d => (d - mean) * (d - mean));
    }

    private int Group(int pump) => _groups[_fleet.Pumps[pump].Truck.Id];

    // By every population. The arrays of conditions stay as they are while they are judged, and belong to one pump model.
    private double[] Predicted(int pump, double[] x)
    {
        if (!_predicted.TryGetValue(x, out var predicted))
        {
            predicted = [.. _populations.Select(p => p.Predict(_fleet.ModelOf[pump], x))];
            _predicted[x] = predicted;
        }

        return predicted;
    }
}
