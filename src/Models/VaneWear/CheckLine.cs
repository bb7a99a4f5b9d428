using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>A robust straight line through checks over hours: where it starts, its noise and how far each check is to be trusted.</summary>
internal sealed record CheckLine
{
    private const int Rounds = 15;

    // Below this share of the flow no check repeats itself: the gauge alone is coarser.
    private const double LeastNoise = 0.002;

    /// <summary>Flow at 0 h, 1/s.</summary>
    public required double Start { get; init; }

    public required double StartSe { get; init; }

    /// <summary>Weights 1/variance of the checks, outliers weighing less.</summary>
    public required double[] Weights { get; init; }

    /// <summary>Standard deviation of a check about the line, 1/s.</summary>
    public required double Scatter { get; init; }

    public required int Outliers { get; init; }

    /// <summary>Huber's estimate, with a noise from check to check beside each check's own error. Two checks or more.</summary>
    public static CheckLine Fit(IReadOnlyList<WearCheck> checks)
    {
        var h = checks.Select(c => c.HoursH / 1000).ToArray();
        var y = checks.Select(c => c.FlowPerS).ToArray();
        var level = Robust.Median(y);
        var own = Robust.Median(checks.Select(c => c.FlowSe));
        var extra = Math.Max(LeastNoise * level, own);
        var variances = Variances(extra);
        var trust = Enumerable.Repeat(1.0, y.Length).ToArray();
        (double A, double B, double ASe) line = (level, 0, extra);
        var scatter = extra;
        for (var round = 0; round < Rounds; round++)
        {
            line = Line(h, y, [.. variances.Zip(trust, (v, t) => t / v)]);
            var residuals = y.Select((value, i) => value - line.A - (line.B * h[i])).ToArray();

            // With few checks the line runs through the middle ones, and the median residual looks too small by about this much.
            var small = Math.Sqrt(y.Length / (double)Math.Max(y.Length - 2, 1));
            scatter = Math.Max(Robust.SpreadAboutZero(residuals) * small, LeastNoise * level);
            extra = Math.Sqrt(Math.Max((scatter * scatter) - (own * own), LeastNoise * LeastNoise * level * level));
            variances = Variances(extra);
            trust = [.. residuals.Select((r, i) => Robust.HuberWeight(r, Math.Sqrt(variances[i])))];
        }

        return new CheckLine
        {
            Start = line.A,
            StartSe = line.ASe,
            Weights = [.. variances.Zip(trust, (v, t) => t / v)],
            Scatter = scatter,
            Outliers = trust.Count(t => t < 0.5),
        };

        double[] Variances(double noise) => [.. checks.Select(c => (c.FlowSe * c.FlowSe) + (noise * noise))];
    }

    // Through checks at one hour there is a level but no slope.
    private static (double A, double B, double ASe) Line(double[] h, double[] y, double[] w)
    {
        var fit = WeightedLeastSquares.Fit(new LinearProblem
        {
            Columns = ["hours"],
            Rows = [.. h.Select(x => new[] { x })],
            Responses = y,
            Weights = w,
        });
        if (fit.Status == FitStatus.Converged)
        {
            return (fit.Coefficients[0].Estimate, fit.Coefficients[1].Estimate, fit.Coefficients[0].StandardError);
        }

        var total = w.Sum();
        return (y.Zip(w, (value, weight) => value * weight).Sum() / total, 0, 1 / Math.Sqrt(total));
    }
}
