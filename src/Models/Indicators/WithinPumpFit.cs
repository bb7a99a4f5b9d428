using System.Collections.Immutable;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

/// <summary>
/// Slopes common to the pumps of a model, from how each pump's runs differ from that pump's own mean, so that a pump which uses more or less than
/// its peers moves no slope. Outliers are found by Huber's estimate and left out of a plain weighted fit. Each pump has a noise of its own: a level in
/// a reservoir says far less of a run's oil than a meter does.
/// </summary>
internal sealed record WithinPumpFit : IConditionFit
{
    // Huber's weights settle within a few rounds on these data; the last step decides only who is an outlier.
    private const int HuberRounds = 8;

    /// <summary>A run further from the others than this is an outlier, in standard deviations.</summary>
    public const double OutlierSd = 4;

    private const double StillShare = 1e-9;

    /// <summary>So many runs' worth of the other pumps' noise goes into each pump's own; with a run or two it has none yet. Of our own.</summary>
    public const double SharedNoiseRuns = 5;

    public required FitStatus Status { get; init; }

    public string? Reason { get; init; }

    public int? OffendingColumn { get; init; }

    public required ImmutableArray<Coefficient> Slopes { get; init; }

    /// <summary>Standard deviation of a run of weight 1 over all pumps.</summary>
    public required double Scale { get; init; }

    /// <summary>The same by pump; a pump without a run in the fit is not in it.</summary>
    public required ImmutableDictionary<int, double> PumpScales { get; init; }

    public required int DegreesOfFreedom { get; init; }

    public required int Observations { get; init; }

    public required double RSquared { get; init; }

    /// <summary>The fit of the slopes; null without predictors.</summary>
    public LinearFit? Fit { get; init; }

    /// <summary>Standard deviation of a run of weight 1 of a pump.</summary>
    public double ScaleOf(int pump) => PumpScales.GetValueOrDefault(pump, Scale);

    /// <inheritdoc/>
    public int Width => Slopes.Length;

    /// <inheritdoc/>
    double IConditionFit.Explained(int pump, double[] x, double[] from) => Explained(x, from);

    /// <inheritdoc/>
    double IConditionFit.ExplainedVariance(int pump, double[] x, double[] from) => ExplainedVariance(x, from);

    public static WithinPumpFit Learn(IReadOnlyList<IndicatorObservation> observations, ImmutableArray<string> columns)
    {
        var robust = new double[observations.Count];
        Array.Fill(robust, 1);
        var scales = ImmutableDictionary<int, double>.Empty;
        var result = Solve(observations, robust, scales, columns, out var residuals);
        var quick = new QuickSlopes(observations, columns.Length);
        for (var round = 0; round < HuberRounds && result.Status == FitStatus.Converged; round++)
        {
            scales = RobustScales(observations, residuals);
            if (scales.IsEmpty)
            {
                return result;
            }

            var last = round == HuberRounds - 1;
            for (var i = 0; i < robust.Length; i++)
            {
                var scale = scales[observations[i].Pump];
                robust[i] = last
                    ? (Math.Abs(residuals[i]) <= OutlierSd * scale ? 1 : 0)
                    : Robust.HuberWeight(residuals[i], scale);
            }

            // Only the last round's errors are ever looked at.
            if (last || !quick.TryResiduals(robust, scales, residuals))
            {
                result = Solve(observations, robust, scales, columns, out residuals);
            }
        }

        return result;
    }

    /// <summary>What the slopes make of the difference between two sets of conditions.</summary>
    public double Explained(double[] x, double[] from)
    {
        var sum = 0.0;
        for (var j = 0; j < Slopes.Length; j++)
        {
            sum += Slopes[j].Estimate * (x[j] - from[j]);
        }

        return sum;
    }

    /// <summary>Variance of <see cref="Explained"/>.</summary>
    public double ExplainedVariance(double[] x, double[] from)
    {
        var sum = 0.0;
        for (var i = 0; i < Slopes.Length; i++)
        {
            for (var j = 0; j < Slopes.Length; j++)
            {
                sum += (x[i] - from[i]) * Fit!.CovarianceOf(i, j) * (x[j] - from[j]);
            }
        }

        return Math.Max(sum, 0);
    }

    // Of each pump, pulled a little towards all; empty where there is no noise at all.
    private static ImmutableDictionary<int, double> RobustScales(IReadOnlyList<IndicatorObservation> observations, double[] residuals)
    {
        var all = Robust.SpreadAboutZero(residuals);
        return all <= 0
            ? []
            : Enumerable.Range(0, observations.Count).GroupBy(i => observations[i].Pump).ToImmutableDictionary(
                g => g.Key,
                g => Shared(Square(Robust.SpreadAboutZero(g.Select(i => residuals[i]))) * g.Count(), g.Count(), all));
    }

    private static double Shared(double squares, double runs, double all) =>
        Math.Sqrt((squares + (SharedNoiseRuns * all * all)) / (runs + SharedNoiseRuns));

    // Residuals come back for every observation, outliers too, brought to weight 1.
    private static WithinPumpFit Solve(
        IReadOnlyList<IndicatorObservation> all, double[] robust, ImmutableDictionary<int, double> scales, ImmutableArray<string> columns, out double[] residuals)
    {
        var p = columns.Length;
        var means = Means(all, robust, p);
        var used = Enumerable.Range(0, all.Count).Where(i => robust[i] > 0).ToList();
        var rows = used.Select(i => Centred(all[i])).ToList();
        var y = used.Select(i => all[i].Seen - means[all[i].Pump].Seen).ToList();
        var w = used.Select(i => all[i].Weight * robust[i]).ToList();
        var still = Enumerable.Range(0, p).Where(j => IsStill(j)).Select(j => (int?)j).FirstOrDefault();
        var fit = p == 0 || still is not null ? null : WeightedLeastSquares.Fit(new LinearProblem
        {
            Columns = columns,
            Rows = rows,
            Responses = y,
            Weights = [.. used.Zip(w, (i, weight) => weight / Square(scales.GetValueOrDefault(all[i].Pump, 1)))],
            Intercept = false,
            AbsorbedParameters = means.Count,
        });
        var slopes = fit?.Coefficients ?? [];
        residuals = [.. all.Select(o => Math.Sqrt(o.Weight) * (o.Seen - means[o.Pump].Seen - Dot(slopes, Centred(o))))];
        var dof = used.Count - p - means.Count;
        if (still is not null || fit is { Status: not FitStatus.Converged } || dof < 1)
        {
            return new WithinPumpFit
            {
                Status = FitStatus.Degenerate,
                Reason = fit?.Reason ?? "Too few runs; wait for more.",
                OffendingColumn = still ?? fit?.OffendingColumn,
                Slopes = [],
                Scale = double.NaN,
                PumpScales = [],
                DegreesOfFreedom = 0,
                Observations = used.Count,
                RSquared = double.NaN,
            };
        }

        var squares = residuals.Select((e, i) => robust[i] * e * e).ToArray();
        var scale = Math.Sqrt(squares.Sum() / dof);
        return new WithinPumpFit
        {
            Status = FitStatus.Converged,
            Slopes = slopes,
            Scale = scale,

            // Each pump pays for its own mean; the slopes, few and common, cost it next to nothing.
            PumpScales = used.GroupBy(i => all[i].Pump).ToImmutableDictionary(
                g => g.Key,
                g => Shared(g.Sum(i => squares[i]), g.Count() - 1, scale)),
            DegreesOfFreedom = dof,
            Observations = used.Count,
            RSquared = fit?.RSquared ?? 0,
            Fit = fit,
        };

        // What centring leaves of a column that never varies is rounding, not zero.
        bool IsStill(int j) => rows.Max(r => Math.Abs(r[j])) <= StillShare * used.Max(i => Math.Abs(all[i].Predictors[j]));

        double[] Centred(IndicatorObservation o) => [.. o.Predictors.Select((x, j) => x - means[o.Pump].Predictors[j])];
    }

    private static double Square(double x) => x * x;

    private static double Dot(ImmutableArray<Coefficient> slopes, double[] x)
    {
        var sum = 0.0;
        for (var j = 0; j < slopes.Length; j++)
        {
            sum += slopes[j].Estimate * x[j];
        }

        return sum;
    }

    private static Dictionary<int, (double Seen, double[] Predictors)> Means(IReadOnlyList<IndicatorObservation> all, double[] robust, int p)
    {
        var means = new Dictionary<int, (double, double[])>();
        foreach (var group in Enumerable.Range(0, all.Count).GroupBy(i => all[i].Pump))
        {
            // A pump whose every run was set aside keeps its plain mean: its residuals must still exist.
            double[] weights = [.. group.Select(i => all[i].Weight * robust[i])];
            if (weights.Sum() <= 0)
            {
                weights = [.. group.Select(i => all[i].Weight)];
            }

            var total = weights.Sum();
            var seen = group.Zip(weights, (i, w) => w * all[i].Seen).Sum() / total;
            var predictors = new double[p];
            for (var j = 0; j < p; j++)
            {
                predictors[j] = group.Zip(weights, (i, w) => w * all[i].Predictors[j]).Sum() / total;
            }

            means[group.Key] = (seen, predictors);
        }

        return means;
    }
}
