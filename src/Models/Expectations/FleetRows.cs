using System.Collections.Immutable;
using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>The runs of a whole fleet for one indicator. Conditions not measured are NaN until <see cref="FillByPump"/>.</summary>
/// <param name="Pumps">The pump lives; an observation's pump is a position in it.</param>
/// <param name="PumpModels">The pump models, in order of name.</param>
/// <param name="ModelOf">By pump, a position in <paramref name="PumpModels"/>.</param>
/// <param name="Predictors">The conditions.</param>
/// <param name="LinearWidth">Least squares uses the first so many of them.</param>
/// <param name="Observations">The runs, those of a pump in order of time.</param>
/// <param name="Definition">The indicator.</param>
/// <param name="Expectation">How expectations are learned.</param>
internal sealed record FleetRows(
    IReadOnlyList<PumpHistory> Pumps,
    ImmutableArray<string> PumpModels,
    ImmutableArray<int> ModelOf,
    ImmutableArray<Predictor> Predictors,
    int LinearWidth,
    List<IndicatorObservation> Observations,
    IndicatorDefinition Definition,
    ExpectationOptions Expectation)
{
    private const double LeastMeasuredShare = 0.5;

    // Trees and the line of all models also see how long a run was, whatever the indicator.
    private static readonly Predictor LogHours = new("log of hours", "1", run => Math.Log(run.HoursH));

    public static FleetRows Of(IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, ExpectationOptions options)
    {
        ImmutableArray<string> models = [.. pumps.Select(p => p.Model.Model).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        var observations = Observing.Observe(definition, pumps, options, []);
        var linear = definition.Predictors.Where(IsMeasured).ToList();
        ImmutableArray<Predictor> predictors = [.. linear, .. linear.Exists(p => p.Name == LogHours.Name) ? Array.Empty<Predictor>() : [LogHours]];
        foreach (var o in observations)
        {
            o.Predictors = [.. predictors.Select(p => Observing.Finite(p.Value(o.Run)) ?? double.NaN)];
        }

        return new FleetRows(pumps, models, [.. pumps.Select(p => models.IndexOf(p.Model.Model))], predictors, linear.Count, observations, definition, options);

        bool IsMeasured(Predictor p) => observations.Count(o => Observing.Finite(p.Value(o.Run)) is not null) >= LeastMeasuredShare * observations.Count;
    }

    /// <summary>The truck of an observation.</summary>
    public string TruckOf(IndicatorObservation o) => Pumps[o.Pump].Truck.Id;

    /// <summary>Puts the pump's mean where a condition was not measured, or the fleet's where the pump never measured it.</summary>
    public void FillByPump()
    {
        var fleet = MeansOf(Observations, Predictors.Length);
        foreach (var ofPump in Observations.GroupBy(o => o.Pump))
        {
            var means = MeansOf(ofPump, Predictors.Length).Zip(fleet, (own, all) => double.IsNaN(own) ? all : own).ToArray();
            foreach (var o in ofPump)
            {
                o.Predictors = Filled(o.Predictors, means);
            }
        }
    }

    /// <summary>Means of what was measured, NaN where nothing was.</summary>
    public static double[] MeansOf(IEnumerable<IndicatorObservation> observations, int width)
    {
        var sums = new double[width];
        var counts = new int[width];
        foreach (var o in observations)
        {
            for (var j = 0; j < width; j++)
            {
                if (!double.IsNaN(o.Predictors[j]))
                {
                    sums[j] += o.Predictors[j];
                    counts[j]++;
                }
            }
        }

        return [.. sums.Zip(counts, (sum, n) => n == 0 ? double.NaN : sum / n)];
    }

    /// <summary>A copy with <paramref name="means"/> where nothing was measured; 0 where there is no mean either.</summary>
    public static double[] Filled(double[] x, double[] means)
    {
        var filled = new double[x.Length];
        for (var j = 0; j < x.Length; j++)
        {
            filled[j] = !double.IsNaN(x[j]) ? x[j] : double.IsNaN(means[j]) ? 0 : means[j];
        }

        return filled;
    }
}
