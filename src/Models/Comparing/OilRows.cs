using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Expectations;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Comparing;

/// <summary>The runs of a fleet with oil measured and the load of each.</summary>
internal sealed class OilRows
{
    // A condition measured in fewer of the runs is left out.
    private const double LeastMeasuredShare = 0.5;

    // The load that the oil use may depend on. Speed as a share of rated: pumps of different sizes turn at different speeds.
    private static readonly Column[] Conditions =
    [
        new("vacuum", "kPa", false, (_, r) => r.VacuumMeanKPa),
        new("temperature rise", "K", false, (_, r) => r.TempRiseK),
        new("ambient temperature", "Cel", false, (_, r) => r.AmbientMeanC),
        new("speed", "1", true, (p, r) => r.SpeedMeanRpm / p.Model.RatedSpeed.Rpm),
    ];

    private readonly IReadOnlyList<PumpHistory> pumps;
    private readonly ExpectationOptions options;
    private readonly IndicatorDefinition definition;
    private readonly List<IndicatorObservation> runs;

    private OilRows(IReadOnlyList<PumpHistory> pumps, ExpectationOptions options, IndicatorDefinition definition, List<IndicatorObservation> runs, ImmutableArray<Column> columns)
    {
        (this.pumps, this.options, this.definition, this.runs, Columns) = (pumps, options, definition, runs, columns);
        Fill();

        // Each truck counts once, however many hours it works.
        var byTruck = runs.GroupBy(TruckOf, StringComparer.Ordinal).Select(g => WeightedMean([.. g])).ToList();
        Load = [.. columns.Select((_, j) => byTruck.Count == 0 ? 0 : byTruck.Average(m => m[j]))];
    }

    /// <summary>The conditions that were measured.</summary>
    public ImmutableArray<Column> Columns { get; }

    /// <summary>The fleet's mean of each.</summary>
    public ImmutableArray<double> Load { get; }

    public static OilRows Of(IReadOnlyList<PumpHistory> pumps, ExpectationOptions options)
    {
        var definition = OilUseIndicator.Define(options.Shift);
        var runs = Observing.Observe(definition, pumps, options, []);
        ImmutableArray<Column> columns = [.. Conditions.Where(c => runs.Count(o => Measured(c, o) is not null) is > 0 and var n && n >= LeastMeasuredShare * runs.Count)];
        foreach (var run in runs)
        {
            run.Predictors = [.. columns.Select(c => Measured(c, run) ?? double.NaN)];
        }

        return new OilRows(pumps, options, definition, runs, columns);

        double? Measured(Column c, IndicatorObservation o) => Observing.Finite(c.Value(pumps[o.Pump], o.Run));
    }

    /// <summary>What the trucks of a pump model usually use.</summary>
    public OilLevels LevelsOf(string model)
    {
        var own = runs.Where(o => pumps[o.Pump].Model.Model == model).ToList();
        var (slopes, variance, used) = own.Count < options.FewestRuns ? (null, 0, own) : Slopes(own);
        var levels = used.GroupBy(TruckOf, StringComparer.Ordinal)
            .Where(g => g.Sum(o => o.Run.HoursH) >= options.YoungestOwnH)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => Robust.WeightedMedian(g.Select(o => (slopes is null ? o.Seen : o.Seen - Explained(slopes, o.Predictors), o.Weight))))
            .ToList();
        var positive = levels.Where(l => l > 0).ToList();
        var usual = positive.Count == 0 ? double.NaN : Robust.Median(positive);
        return new OilLevels(
            positive,
            positive.Count == 0 ? 0 : variance / (usual * usual),
            positive.Count == 0
                ? null
                : slopes is null
                    ? "Too few runs with oil measured, or too much alike, to bring oil use to the fleet's mean load; it stands as measured."
                    : levels.Count > positive.Count ? string.Create(CultureInfo.InvariantCulture, $"Left out of oil use: {levels.Count - positive.Count} without any oil used in half of its runs.") : null);
    }

    private double Explained(double[] slopes, double[] x) => slopes.Select((s, j) => s * (x[j] - Load[j])).Sum();

    private string TruckOf(IndicatorObservation o) => pumps[o.Pump].Truck.Id;

    // Conditions that do not vary inside pumps are dropped: they explain nothing. Once they are known, lasting shifts are found, left out, and the slopes learned again.
    private (double[]? Slopes, double Variance, List<IndicatorObservation> Used) Slopes(List<IndicatorObservation> own)
    {
        var kept = Enumerable.Range(0, Columns.Length).ToList();
        var cleared = false;
        while (true)
        {
            var used = own.ConvertAll(o => new IndicatorObservation(o.Pump, o.Run, o.Seen, o.Weight, [.. kept.Select(j => o.Predictors[j])]));
            var fit = WithinPumpFit.Learn(used, [.. kept.Select(j => Columns[j].Name)]);
            if (fit.OffendingColumn is { } column)
            {
                kept.RemoveAt(column);
                continue;
            }

            if (fit is not { Status: FitStatus.Converged, Scale: > 0 })
            {
                return (null, 0, own);
            }

            if (!cleared)
            {
                cleared = true;
                JudgementWriter.MarkShifted(used, Judging.Of(fit, used, pumps, 0, options), definition, options.Shift);
                if (used.Exists(o => o.IsShifted))
                {
                    own = [.. own.Where((_, i) => !used[i].IsShifted)];
                    continue;
                }
            }

            if (kept.Count == 0)
            {
                return (null, 0, own);
            }

            var slopes = new double[Columns.Length];
            for (var j = 0; j < kept.Count; j++)
            {
                slopes[kept[j]] = fit.Slopes[j].Estimate;
            }

            var mean = WeightedMean(own);
            return (slopes, fit.ExplainedVariance([.. kept.Select(j => Load[j])], [.. kept.Select(j => mean[j])]), own);
        }
    }

    // Where a condition was not measured: the truck's mean, or the fleet's where that truck never measured it.
    private void Fill()
    {
        var fleet = FleetRows.MeansOf(runs, Columns.Length);
        foreach (var ofTruck in runs.GroupBy(TruckOf, StringComparer.Ordinal))
        {
            var means = FleetRows.MeansOf(ofTruck, Columns.Length).Zip(fleet, (own, all) => double.IsNaN(own) ? all : own).ToArray();
            foreach (var o in ofTruck)
            {
                o.Predictors = FleetRows.Filled(o.Predictors, means);
            }
        }
    }

    private double[] WeightedMean(List<IndicatorObservation> of)
    {
        var total = of.Sum(o => o.Weight);
        return [.. Columns.Select((_, j) => of.Sum(o => o.Weight * o.Predictors[j]) / total)];
    }

    /// <summary>A condition.</summary>
    /// <param name="Name">What it is.</param>
    /// <param name="Unit">Its unit's symbol.</param>
    /// <param name="IsShare">Whether it is a share of what the pump is rated for.</param>
    /// <param name="Value">Reads it; null where it was not measured.</param>
    internal sealed record Column(string Name, string Unit, bool IsShare, Func<PumpHistory, Run, double?> Value);
}
